package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/view"
	"spindlestick/profile/whole"
	"spindlestick/vision"
)

type traceCmd struct {
	Photos  []string    `arg:"" name:"photo" help:"Photographs: JPEG, HEIC, PNG, TIFF or WebP; or a folder, for all those in it."`
	Axis    *axisFlag   `placeholder:"X1,Y1,X2,Y2" help:"The piece's two ends in pixels of the upright picture, roughly; the first is x = 0 (default: found)."`
	Board   bool        `help:"Boards are in the picture: fail if none is found (default: looked for)."`
	Square  lengthFlag  `placeholder:"10mm" help:"Measured size of a board's square."`
	Rule    *ruleFlag   `placeholder:"X1,Y1,X2,Y2=300mm" help:"Two graduations of a rule and their distance (mm, cm, in)."`
	Known   []knownFlag `sep:"none" placeholder:"123.4=24.6mm" help:"A diameter at a station (repeatable)."`
	Length  lengthFlag  `placeholder:"450mm" help:"Overall length."`
	Height  heightFlag  `placeholder:"raised|level|lies|22mm" help:"The axis over the reference plane (default: lies)."`
	Focal35 float64     `placeholder:"26" help:"Focal length as its 35 mm equivalent, in place of the photograph's own."`
	CSV     string      `name:"csv" placeholder:"F" help:"Write diameters every 0.25 mm from the fitted pattern; of several photographs F is a folder, here and below."`
	Trace   string      `placeholder:"F" help:"Write the same from the measured trace."`
	Pattern string      `placeholder:"F.json" help:"Write the pattern."`
	Job     string      `placeholder:"F.turning" help:"Write everything, photograph included."`
}

// Validate is called once the command line is read.
func (c traceCmd) Validate() error {
	if c.Focal35 != 0 && (c.Focal35 < 5 || c.Focal35 > 2000) {
		return fmt.Errorf("--focal35=%v is not a focal length between 5 and 2000 mm", c.Focal35)
	}
	return nil
}

func (c traceCmd) hints() view.Hints {
	h := view.Hints{
		Boards: c.Board, Square: float64(c.Square), Length: float64(c.Length),
		Height: view.Height(c.Height), Focal35: c.Focal35, Rule: (*view.RuleMarks)(c.Rule), Axis: (*[2]r2.Vec)(c.Axis),
	}
	for _, k := range c.Known {
		h.Known = append(h.Known, view.KnownDiameter(k))
	}
	return h
}

// Run traces the photographs. Of one alone the output flags name files, of several folders; see batch.
func (c traceCmd) Run(env environment) error {
	if len(c.Photos) == 1 && !isFolder(c.Photos[0]) {
		_, err := c.one(env, c.Photos[0], c.outputs())
		return err
	}
	return c.batch(env)
}

// outputs names the files to write; empty = not asked for.
type outputs struct{ csv, trace, pattern, job string }

func (c traceCmd) outputs() outputs { return outputs{c.CSV, c.Trace, c.Pattern, c.Job} }

// one traces a photograph, writes what was asked for, and prints its table.
func (c traceCmd) one(env environment, photo string, out outputs) (job.Job, error) {
	data, err := readPhoto(photo)
	if err != nil {
		return job.Job{}, err
	}
	j, err := job.Trace(env.ctx, vision.Tracer{}, cameras(), data, photo, c.hints(), nil)
	if err != nil {
		return job.Job{}, err
	}
	for _, note := range j.Measurement.Notes {
		fmt.Fprintf(env.stderr, "note: %s\n", note)
	}
	if err := out.write(j); err != nil {
		return job.Job{}, err
	}
	return j, printStations(env.stdout, j.Pattern)
}

// maxPhotoFile bounds what is read of a photograph, bytes: the largest files of cameras (uncompressed 16-bit TIFF of
// 60 megapixels) stay under it.
const maxPhotoFile = 512 << 20

func readPhoto(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such file", path)
	case err != nil:
		return nil, fmt.Errorf("open the photograph: %w", err)
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder: name the photographs in it", path)
	case info.Size() > maxPhotoFile:
		return nil, fmt.Errorf("%s is over %d MB: it is not a photograph this program takes", path, maxPhotoFile>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("read the photograph: %w", err)
	}
	return data, nil
}

func (o outputs) write(j job.Job) error {
	files := []struct {
		path  string
		write func(io.Writer) error
	}{
		{o.csv, func(w io.Writer) error { return profile.WriteCSV(w, j.Pattern.Curve(profile.CSVStep)) }},
		{o.trace, func(w io.Writer) error { return profile.WriteCSV(w, j.Measurement.Trace.Resampled(profile.CSVStep)) }},
		{o.pattern, func(w io.Writer) error { return profile.WritePattern(w, j.Pattern) }},
		{o.job, func(w io.Writer) error { return job.Write(w, j) }},
	}
	for _, f := range files {
		if f.path == "" {
			continue
		}
		if err := whole.WriteFile(f.path, f.write); err != nil {
			return err
		}
	}
	return nil
}
