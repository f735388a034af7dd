package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"spindlestick/profile"
	"spindlestick/profile/join"
)

// printStations writes the pattern as a table of elements with their stations, in mm and fractions of an inch.
func printStations(w io.Writer, p profile.Pattern) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "no.\tkind\tfrom\tto\tdiameters\tcrest or bottom\t+-\tin inches\tsure\tor\t")
	for i, e := range p.Elements {
		mid := ""
		if _, d, ok := e.Mid(); ok {
			mid = profile.FormatLength(d, profile.MM)
		}
		fmt.Fprintf(t, "%d\t%s\t%.2f\t%.2f\t%s\t%s\t%.2f\t%s\t%s\t%s\t\n", i+1, p.Word(i), e.X0, e.X1, diameters(e, profile.MM), mid,
			max(e.U.D0, e.U.D1, e.U.Mid), diameters(e, profile.Fraction), share(e.Confidence), e.Second.Kind)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "overall %.2f mm (+- %.2f), %s in\n", p.Length, p.ULength, profile.FormatLength(p.Length, profile.Fraction))
	return err
}

func diameters(e profile.Element, u profile.Unit) string {
	a, b := profile.FormatLength(e.D0, u), profile.FormatLength(e.D1, u)
	if a == b {
		return a
	}
	return a + " to " + b
}

// printTurns writes the diameters of two turns of a piece at the stations of its pattern. at returns what lies nearest
// to a station, and false where neither shows it.
func printTurns(w io.Writer, p profile.Pattern, at func(x float64) (join.OvalRow, bool)) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "station\tfirst\tsecond\tmean\tdiffer by\t+-\t\t")
	for _, e := range p.Elements {
		x := (e.X0 + e.X1) / 2
		if m, _, ok := e.Mid(); ok {
			x = m
		}
		r, ok := at(x)
		if !ok {
			continue
		}
		word := ""
		if r.Exceeds() {
			word = "oval"
		}
		fmt.Fprintf(t, "%.2f\t%.2f\t%.2f\t%.2f\t%.2f\t%.2f\t%s\t\n", r.X, r.D[0], r.D[1], r.Mean, r.Difference, r.U, word)
	}
	return t.Flush()
}

// share writes a confidence in per cent; nothing where it is not known.
func share(v float64) string {
	if v == 0 {
		return ""
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}
