package main

import (
	"errors"
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
	Original    string       `arg:"" help:"The original: a job, a pattern or a photograph."`
	Copies      []string     `arg:"" optional:"" name:"copy" help:"Its copies, each a job, a pattern, a photograph, or a CSV file of caliper readings; without any, those kept in the job. With --likely: the other originals."`
	Out         []string     `short:"o" sep:"none" placeholder:"F.pdf|F.json|F.csv" help:"Write the report (repeatable). The .csv without any copies is a form to fill in. With --likely: F.turning, F.json (the pattern), F.pdf or F.csv (the spread)."`
	Align       alignFlag    `placeholder:"hook|fit|123.4" help:"Lay the copy on the original by the hook end, by best fit, or by the station at so many mm (default: hook)."`
	Diameter    lengthFlag   `placeholder:"0.5mm" help:"Tolerance of diameters, either way (default: 0.5 mm)."`
	Station     lengthFlag   `placeholder:"1mm" help:"Tolerance of stations' places, either way (default: 1 mm)."`
	At          []knownFlag  `sep:"none" placeholder:"123.4=0.3mm" help:"Tolerance of the diameter at one station of the original (repeatable)."`
	Calipers    lengthFlag   `placeholder:"0.06mm" help:"Expanded uncertainty of a caliper reading (default: 0.06 mm, a vernier's)."`
	Height      heightFlag   `placeholder:"raised|level|lies|22mm" help:"Of photographs: the axis over the reference plane (default: lies)."`
	Exaggerated float64      `name:"exaggerate" placeholder:"10" help:"How many times deviations are enlarged in the overlay (default: 10)."`
	Paper       string       `enum:"a4,letter" default:"a4" help:"${enum}."`
	Likely      bool         `help:"Take all the files for originals of one design and join them into the pattern they most likely come from."`
	Worn        bool         `help:"With --likely: they have lost wood, so where they differ the fuller ones count."`
	Weight      []weightFlag `sep:"none" placeholder:"2=0.5" help:"With --likely: count the second file by half (repeatable)."`
	Drop        []int        `sep:"none" placeholder:"3" help:"With --likely: leave the third file out (repeatable)."`
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
	if c.Exaggerated != 0 && !(c.Exaggerated >= 1 && c.Exaggerated <= 1000) {
		return fmt.Errorf("--exaggerate=%v is not between 1 and 1000", c.Exaggerated)
	}
	endings := []string{".pdf", ".json", ".csv"}
	if c.Likely {
		endings = append(endings, job.Extension)
	}
	for _, out := range c.Out {
		if !slices.Contains(endings, ending(out)) {
			return fmt.Errorf("-o %s: the file must end in one of %s", out, strings.Join(endings, ", "))
		}
	}
	if len(c.Copies) == 0 && !c.Likely && ending(c.Original) != job.Extension && !c.form() {
		return errors.New("name a copy: only a job keeps copies; or write a form for caliper readings with -o F.csv")
	}
	return c.validateLikely()
}

// form reports whether a table is to be written, which without copies is a form to fill in.
func (c checkCmd) form() bool {
	return slices.ContainsFunc(c.Out, func(out string) bool { return ending(out) == ".csv" })
}

func ending(path string) string { return strings.ToLower(filepath.Ext(path)) }

func (c checkCmd) options() check.Options {
	o := check.Options{
		Align: c.Align.align, Station: c.Align.station,
		Tolerance: check.Tolerance{Diameter: float64(c.Diameter), Station: float64(c.Station)}, Calipers: float64(c.Calipers),
	}
	for _, a := range c.At {
		o.Exceptions = append(o.Exceptions, check.Exception{X: a.X, Tolerance: check.Tolerance{Diameter: a.D}})
	}
	return o
}

// Run compares every copy with the original.
func (c checkCmd) Run(env environment) error {
	if c.Likely {
		return c.likely(env)
	}
	j, err := c.job(env, c.Original)
	if err != nil {
		return err
	}
	original := j.Piece(filepath.Base(c.Original))
	set, err := c.set(env, j, original)
	if err != nil {
		return err
	}
	reports, err := set.Reports(original)
	if err != nil {
		return err
	}
	if err := c.write(reports, set.Exaggeration); err != nil {
		return err
	}
	for _, r := range reports {
		if err := printReport(env.stdout, r); err != nil {
			return err
		}
	}
	return printSet(env.stdout, reports)
}

// set gathers the copies: those named, or else those kept in the job with how they are judged there, or else one to
// measure. Flags go before what is kept.
func (c checkCmd) set(env environment, j job.Job, original check.Piece) (check.Set, error) {
	set := check.Set{Options: c.options(), Exaggeration: c.Exaggerated}
	for _, path := range c.Copies {
		copies, err := c.read(env, path, original)
		if err != nil {
			return set, err
		}
		set.Copies = append(set.Copies, copies...)
	}
	if len(c.Copies) > 0 {
		return set, nil
	}
	if len(j.Copies.Copies) > 0 {
		return c.kept(j.Copies), nil
	}
	if !c.form() {
		return set, fmt.Errorf("%s keeps no copies: name them, or write a form for caliper readings with -o F.csv", c.Original)
	}
	set.Copies = []check.Piece{{Name: "1", Gauged: true}}
	return set, nil
}

// kept puts the flags over how a job's copies are judged.
func (c checkCmd) kept(set check.Set) check.Set {
	o := c.options()
	if o.Align != "" {
		set.Align, set.Station = o.Align, o.Station
	}
	if o.Tolerance.Diameter > 0 {
		set.Tolerance.Diameter = o.Tolerance.Diameter
	}
	if o.Tolerance.Station > 0 {
		set.Tolerance.Station = o.Tolerance.Station
	}
	if o.Calipers > 0 {
		set.Calipers = o.Calipers
	}
	if c.Exaggerated > 0 {
		set.Exaggeration = c.Exaggerated
	}
	set.Exceptions = append(slices.Clone(set.Exceptions), o.Exceptions...)
	return set
}

// read reads a file's copies: one of a job, a pattern or a photograph, some of a file of readings.
func (c checkCmd) read(env environment, path string, original check.Piece) ([]check.Piece, error) {
	if ending(path) != ".csv" {
		j, err := c.job(env, path)
		return []check.Piece{j.Piece(filepath.Base(path))}, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("open the readings: %w", err)
	}
	defer f.Close()
	copies, err := check.ReadCSV(f, filepath.Base(path))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	for _, p := range copies {
		if err := check.Accept(original, p, c.options()); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
	}
	return copies, nil
}

// job reads a job or a pattern, or traces a photograph.
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
	if ext := ending(path); ext == job.Extension || ext == ".json" {
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

// write writes the report in every form that is asked for.
func (c checkCmd) write(reports []check.Report, exaggeration float64) error {
	for _, out := range c.Out {
		var err error
		switch ending(out) {
		case ".json":
			err = whole.WriteFile(out, func(w io.Writer) error { return check.WriteJSON(w, reports) })
		case ".csv":
			err = whole.WriteFile(out, func(w io.Writer) error { return check.WriteCSV(w, reports) })
		default:
			var doc sheet.Document
			if doc, err = check.Paper(reports, c.paper(exaggeration)); err == nil {
				err = sheet.WriteFile(out, doc)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (c checkCmd) paper(exaggeration float64) check.PaperOptions {
	return check.PaperOptions{Paper: sheet.Paper(c.Paper), Exaggeration: exaggeration, Date: time.Now().Format("2 January 2006")}
}
