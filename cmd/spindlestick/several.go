package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"spindlestick/app/job"
	"spindlestick/profile/whole"
)

type joinCmd struct {
	Jobs    []string   `arg:"" name:"job" help:"Jobs of overlapping photographs along one piece, in order from the hook end."`
	Overlap lengthFlag `placeholder:"120mm" help:"About how much neighbours share (default: found)."`
	Out     string     `short:"o" required:"" placeholder:"F.turning" help:"Write the joined job."`
	CSV     string     `name:"csv" placeholder:"F" help:"Write diameters every 0.25 mm from the joined pattern."`
	Trace   string     `placeholder:"F" help:"Write the same from the joined trace."`
}

// Validate is called once the command line is read.
func (c joinCmd) Validate() error {
	if len(c.Jobs) < 2 {
		return errors.New("join takes two jobs or more")
	}
	return isTurning(c.Out)
}

// Run joins overlapping shots of one piece.
func (c joinCmd) Run(env environment) error {
	jobs, err := openAll(c.Jobs)
	if err != nil {
		return err
	}
	j, _, err := job.Join(jobs, float64(c.Overlap))
	if err != nil {
		return err
	}
	return finish(env, j, outputs{csv: c.CSV, trace: c.Trace, job: c.Out})
}

type ovalCmd struct {
	First  string `arg:"" help:"A job of the whole piece."`
	Second string `arg:"" help:"A job of the same piece, turned about its axis by a quarter."`
	Out    string `short:"o" placeholder:"F.turning" help:"Write the mean of both as a job."`
	CSV    string `name:"csv" placeholder:"F" help:"Write both diameters, their mean and their difference along the piece."`
}

// Validate is called once the command line is read.
func (c ovalCmd) Validate() error {
	if c.Out == "" {
		return nil
	}
	return isTurning(c.Out)
}

// Run compares two turns of one piece.
func (c ovalCmd) Run(env environment) error {
	jobs, err := openAll([]string{c.First, c.Second})
	if err != nil {
		return err
	}
	j, o, err := job.Turn(jobs[0], jobs[1])
	if err != nil {
		return err
	}
	if c.CSV != "" {
		if err := whole.WriteFile(c.CSV, o.WriteCSV); err != nil {
			return err
		}
	}
	if err := printTurns(env.stdout, j.Pattern, o.At); err != nil {
		return err
	}
	return finish(env, j, outputs{job: c.Out})
}

func isTurning(path string) error {
	if !strings.EqualFold(filepath.Ext(path), job.Extension) {
		return fmt.Errorf("-o %s: a job is written as %s", path, job.Extension)
	}
	return nil
}

func openAll(paths []string) ([]job.Job, error) {
	var out []job.Job
	for _, p := range paths {
		j, err := job.Open(p)
		if err != nil {
			return nil, err
		}
		if len(j.Measurement.Trace.Samples) == 0 {
			return nil, fmt.Errorf("%s holds no trace: trace its photograph with --job first", p)
		}
		// Shots of one piece often carry one title; file names tell them apart.
		j.Title = strings.TrimSuffix(filepath.Base(p), filepath.Ext(p))
		out = append(out, j)
	}
	return out, nil
}

// finish writes what was asked for and prints the pattern.
func finish(env environment, j job.Job, out outputs) error {
	for _, note := range j.Measurement.Notes {
		fmt.Fprintf(env.stderr, "note: %s\n", note)
	}
	if err := out.write(j); err != nil {
		return err
	}
	return printStations(env.stdout, j.Pattern)
}
