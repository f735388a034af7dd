package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/check"
	"spindlestick/profile/sheet"
	"spindlestick/profile/view"
	"spindlestick/profile/whole"
	"spindlestick/vision"
)

type checkCmd struct {
	Original    string      `arg:"" help:"The original: a job, a pattern or a photograph."`
	Copies      []string    `arg:"" name:"copy" help:"Its copies, each a job, a pattern or a photograph."`
	Out         string      `short:"o" placeholder:"F.pdf|F.json" help:"Write the report."`
	Align       alignFlag   `placeholder:"hook|fit|123.4" help:"Lay the copy on the original by the hook end, by best fit, or by the station at so many mm (default: hook)."`
	Diameter    lengthFlag  `placeholder:"0.5mm" help:"Tolerance of diameters, either way (default: 0.5 mm)."`
	Station     lengthFlag  `placeholder:"1mm" help:"Tolerance of stations' places, either way (default: 1 mm)."`
	At          []knownFlag `sep:"none" placeholder:"123.4=0.3mm" help:"Tolerance of the diameter at one station of the original (repeatable)."`
	Height      heightFlag  `placeholder:"raised|level|lies|22mm" help:"Of photographs: the axis over the reference plane (default: lies)."`
	Exaggerated float64     `name:"exaggerate" placeholder:"10" help:"How many times deviations are enlarged in the overlay (default: 10)."`
	Paper       string      `enum:"a4,letter" default:"a4" help:"${enum}."`
}

// alignFlag is hook, fit or a station of the original.
type alignFlag struct {
	align   check.Align
	station float64
}

func (a *alignFlag) UnmarshalText(text []byte) error {
	switch string(text) {
	case "hook":
		a.align = check.HookEnd
		return nil
	case "fit":
		a.align = check.BestFit
		return nil
	}
	mm, err := profile.ParseLength(string(text), profile.MM)
	if err != nil {
		return fmt.Errorf("%q is not hook, fit or a station", text)
	}
	*a = alignFlag{check.AtStation, mm}
	return nil
}

// Validate is called once the command line is read.
func (c checkCmd) Validate() error {
	if c.Out != "" && !slices.Contains([]string{".pdf", ".json"}, strings.ToLower(filepath.Ext(c.Out))) {
		return fmt.Errorf("-o %s: the file must end in .pdf or .json", c.Out)
	}
	if c.Exaggerated != 0 && !(c.Exaggerated >= 1 && c.Exaggerated <= 1000) {
		return fmt.Errorf("--exaggerate=%v is not between 1 and 1000", c.Exaggerated)
	}
	return nil
}

func (c checkCmd) options() check.Options {
	o := check.Options{
		Align: c.Align.align, Station: c.Align.station,
		Tolerance: check.Tolerance{Diameter: float64(c.Diameter), Station: float64(c.Station)},
	}
	for _, a := range c.At {
		o.Exceptions = append(o.Exceptions, check.Exception{X: a.X, Tolerance: check.Tolerance{Diameter: a.D}})
	}
	return o
}

// Run compares every copy with the original.
func (c checkCmd) Run(env environment) error {
	original, err := c.piece(env, c.Original)
	if err != nil {
		return err
	}
	var reports []check.Report
	for _, path := range c.Copies {
		copied, err := c.piece(env, path)
		if err != nil {
			return err
		}
		r, err := check.Compare(original, copied, c.options())
		if err != nil {
			return err
		}
		reports = append(reports, r)
	}
	if err := c.write(reports); err != nil {
		return err
	}
	for _, r := range reports {
		if err := printReport(env.stdout, r); err != nil {
			return err
		}
	}
	return nil
}

// piece reads a job or a pattern, or traces a photograph.
func (c checkCmd) piece(env environment, path string) (check.Piece, error) {
	j, err := c.job(env, path)
	if err != nil {
		return check.Piece{}, err
	}
	return check.Piece{Name: filepath.Base(path), Pattern: j.Pattern, Trace: j.Measurement.Trace}, nil
}

func (c checkCmd) job(env environment, path string) (job.Job, error) {
	if isOurs(path) {
		return job.Open(path)
	}
	data, err := readPhoto(path)
	if err != nil {
		return job.Job{}, err
	}
	j, err := job.Trace(env.ctx, vision.Tracer{}, cameras(), data, path, view.Hints{Height: view.Height(c.Height)}, nil)
	for _, note := range j.Measurement.Notes {
		fmt.Fprintf(env.stderr, "note: %s: %s\n", filepath.Base(path), note)
	}
	return j, err
}

// isOurs reports whether a file is a job or a pattern, by its name or how it begins.
func isOurs(path string) bool {
	if ext := strings.ToLower(filepath.Ext(path)); ext == job.Extension || ext == ".json" {
		return true
	}
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 4)
	_, err = io.ReadFull(f, head)
	return err == nil && (job.IsJob(head) || head[0] == '{')
}

func (c checkCmd) write(reports []check.Report) error {
	switch strings.ToLower(filepath.Ext(c.Out)) {
	case ".json":
		return whole.WriteFile(c.Out, func(w io.Writer) error { return check.WriteJSON(w, reports) })
	case ".pdf":
		doc, err := check.Paper(reports, check.PaperOptions{
			Paper: sheet.Paper(c.Paper), Exaggeration: c.Exaggerated, Date: time.Now().Format("2 January 2006"),
		})
		if err != nil {
			return err
		}
		return sheet.WriteFile(c.Out, doc)
	}
	return nil
}
