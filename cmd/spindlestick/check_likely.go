package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/check"
	"spindlestick/profile/sheet"
	"spindlestick/profile/whole"
)

// weightFlag is NUMBER=WEIGHT of an original, by its place on the command line from 1.
type weightFlag struct {
	number int
	weight float64
}

func (f *weightFlag) UnmarshalText(text []byte) error {
	number, weight, ok := strings.Cut(string(text), "=")
	n, err := strconv.Atoi(strings.TrimSpace(number))
	w, err2 := strconv.ParseFloat(strings.TrimSpace(weight), 64)
	if !ok || err != nil || err2 != nil {
		return fmt.Errorf("%q is not a file's number and its weight: write it like 2=0.5", text)
	}
	if !(w > 0 && w <= 1000) {
		return fmt.Errorf("a weight of %v has no meaning: give more than 0 and up to 1000, or leave the file out with --drop", w)
	}
	*f = weightFlag{n, w}
	return nil
}

func (c checkCmd) validateLikely() error {
	n := 1 + len(c.Copies)
	if !c.Likely {
		if c.Worn || len(c.Weight) > 0 || len(c.Drop) > 0 {
			return errors.New("--worn, --weight and --drop go with --likely")
		}
		return nil
	}
	if n < 2 {
		return errors.New("--likely takes two originals or more")
	}
	for _, w := range c.Weight {
		if w.number < 1 || w.number > n {
			return fmt.Errorf("--weight %d: there are %d files", w.number, n)
		}
	}
	for _, d := range c.Drop {
		if d < 1 || d > n {
			return fmt.Errorf("--drop %d: there are %d files", d, n)
		}
	}
	return nil
}

// likely joins the files into their likely pattern.
func (c checkCmd) likely(env environment) error {
	var pieces []check.Piece
	for i, path := range append([]string{c.Original}, c.Copies...) {
		j, err := c.job(env, path)
		if err != nil {
			return err
		}
		p := j.Piece(filepath.Base(path))
		p.Drop = slices.Contains(c.Drop, i+1)
		for _, w := range c.Weight {
			if w.number == i+1 {
				p.Weight = w.weight
			}
		}
		pieces = append(pieces, p)
	}
	pattern, spread, err := check.Likely(pieces, check.LikelyOptions{Worn: c.Worn})
	if err != nil {
		return err
	}
	for _, out := range c.Out {
		if err := c.writeLikely(out, pieces, pattern, spread); err != nil {
			return err
		}
	}
	if err := printStations(env.stdout, pattern); err != nil {
		return err
	}
	return printSpread(env.stdout, pieces, spread)
}

func (c checkCmd) writeLikely(out string, pieces []check.Piece, p profile.Pattern, s check.Spread) error {
	switch ending(out) {
	case job.Extension:
		return job.Save(out, job.Likely(strings.TrimSuffix(filepath.Base(out), filepath.Ext(out)), pieces, p))
	case ".json":
		return whole.WriteFile(out, func(w io.Writer) error { return profile.WritePattern(w, p) })
	case ".csv":
		return whole.WriteFile(out, func(w io.Writer) error { return check.WriteSpreadCSV(w, pieces, s) })
	}
	doc, err := check.SpreadPaper(pieces, p, s, c.paper(0))
	if err != nil {
		return err
	}
	return sheet.WriteFile(out, doc)
}

// printSpread writes what is named of each piece, and where they differ most.
func printSpread(w io.Writer, pieces []check.Piece, s check.Spread) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\nspread at\twhat\tlikely\t+-\tscatter\t")
	for _, part := range [][]check.Agreement{s.Diameters, s.Lengths} {
		for _, a := range part {
			fmt.Fprintf(t, "%.2f\t%s\t%.2f\t%.2f\t%.2f\t\n", a.X, a.What, a.Value, a.U, a.Scatter)
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for i, p := range pieces {
		if p.Drop {
			fmt.Fprintf(w, "%s: dropped\n", p.Name)
			continue
		}
		for _, r := range s.ByPiece(i) {
			if _, err := fmt.Fprintf(w, "%s: %s\n", p.Name, r.Words); err != nil {
				return err
			}
		}
	}
	return nil
}
