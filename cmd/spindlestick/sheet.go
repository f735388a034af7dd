package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"time"

	"spindlestick/app"
	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/sheet"
	"spindlestick/vision"
)

type sheetCmd struct {
	Job       string     `arg:"" help:"A job or a pattern."`
	Out       string     `short:"o" required:"" placeholder:"F.pdf|.svg|.dxf|.png|.csv|.json" help:"The file to write; its ending says how. .csv and .json hold the stations in mm."`
	Show      string     `enum:"stick,drawing,template,table,all" default:"stick" help:"${enum}. The table comes with the record page where there is a photograph."`
	Paper     string     `enum:"a4,letter,a3,tabloid,roll" default:"a4" help:"${enum}."`
	Units     string     `enum:"mm,in" default:"mm" help:"${enum}."`
	Round     *roundFlag `placeholder:"1/16in" help:"Workshop sizes: 1/64in, 1/32in, 1/16in, 0.1mm, 0.5mm, 1mm or none (default: as the job says). Lists what they change."`
	Hook      spareFlag  `placeholder:"8mm" help:"How far the blank goes on before station 1; the stick hooks over its end."`
	Allowance *spareFlag `placeholder:"1/16in" help:"What a sizing cut leaves on the diameter; 0 leaves sizing diameters out."`
	Printer   string     `placeholder:"NAME" help:"The printer that the sheets are corrected for; they say it."`
	PrinterX  lengthFlag `placeholder:"99.6mm" help:"What its bar of 100 mm measures along the paper's long side, printed without correction."`
	PrinterY  lengthFlag `placeholder:"100.2mm" help:"The same across."`
}

// spareFlag is a length that may be zero.
type spareFlag float64

func (s *spareFlag) UnmarshalText(text []byte) error {
	mm, err := profile.ParseLength(string(text), profile.MM)
	if err != nil {
		return err
	}
	if mm < 0 {
		return errors.New("a length under zero has no meaning here")
	}
	*s = spareFlag(mm)
	return nil
}

// Validate is called once the command line is read.
func (c sheetCmd) Validate() error {
	if _, err := sheet.FormatOf(c.Out); err != nil {
		return fmt.Errorf("-o: %w", err)
	}
	_, err := c.options()
	return err
}

// Run writes the sheet.
func (c sheetCmd) Run(env environment) error {
	j, err := job.Open(c.Job)
	if err != nil {
		return err
	}
	if !j.Traced() {
		return fmt.Errorf("%s holds no pattern yet: trace its photograph first", c.Job)
	}
	o, err := c.options()
	if err != nil {
		return err
	}
	o.Title, o.Date = j.Title, time.Now().Format("2 January 2006")
	if o.Photo, err = c.record(env.ctx, j); err != nil {
		return err
	}
	p, report, note, err := workshop(j, c.Round)
	if err != nil {
		return err
	}
	if note != "" {
		o.Notes = append(o.Notes, note)
		fmt.Fprintln(env.stdout, note)
		if err := printRounding(env.stdout, j.Pattern, report); err != nil {
			return err
		}
	}
	return sheet.Write(c.Out, p, o)
}

func (c sheetCmd) options() (sheet.Options, error) {
	o := sheet.Options{Show: sheet.Show(c.Show), Paper: sheet.Paper(c.Paper), Units: profile.MM, Hook: float64(c.Hook), Printer: c.Printer}
	if c.Units == "in" {
		o.Units = profile.Fraction
	}
	if c.Allowance != nil {
		o.Allowance = float64(*c.Allowance)
		if o.Allowance == 0 {
			o.Allowance = -1
		}
	}
	for _, f := range []struct {
		measured lengthFlag
		scale    *float64
	}{{c.PrinterX, &o.ScaleX}, {c.PrinterY, &o.ScaleY}} {
		if f.measured == 0 {
			continue
		}
		scale, err := sheet.Correction(float64(f.measured))
		if err != nil {
			return o, err
		}
		*f.scale = scale
	}
	return o, nil
}

// record draws the photograph for the record page, where the sheets have one.
func (c sheetCmd) record(ctx context.Context, j job.Job) (image.Image, error) {
	f, err := sheet.FormatOf(c.Out)
	figures := f == sheet.CSV || f == sheet.JSON
	if err != nil || figures || len(j.Photo) == 0 || c.Show != string(sheet.Table) && c.Show != string(sheet.All) {
		return nil, err
	}
	photo, err := vision.Tracer{}.Picture(ctx, j.Photo, j.PhotoName)
	if err != nil {
		return nil, err
	}
	return app.RecordPicture(photo, j, 0)
}
