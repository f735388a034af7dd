package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"spindlestick/profile"
)

// ruleParts is the division of an inch on the rule at the bench.
const ruleParts = 32

// printTable writes one row for each element of a pattern: where it starts and ends from the hook end, the
// diameters there, and the crest, bottom or inflection between, all in mm and then in inches to the nearest 1/32.
func printTable(out io.Writer, p profile.Pattern) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, row("no.", "kind", "from", "to", "dia.", "dia.", "mid dia.", "from", "to", "dia.", "dia.", "mid dia."))
	fmt.Fprintln(w, row("", "", "mm", "mm", "mm", "mm", "mm", "in", "in", "in", "in", "in"))
	for i, e := range p.Elements {
		cells := []string{fmt.Sprint(i + 1), string(e.Kind)}
		cells = append(cells, lengths(e, func(mm float64) string { return profile.FormatLength(mm, profile.MM) })...)
		cells = append(cells, lengths(e, fraction)...)
		fmt.Fprintln(w, row(cells...))
	}
	if err := w.Flush(); err != nil {
		return fmt.Errorf("the table could not be printed: %w", err)
	}
	_, err := fmt.Fprintf(out, "Overall length %s mm, %s in.\n", profile.FormatLength(p.Length, profile.MM), fraction(p.Length))
	return err
}

// lengths writes an element's stations and diameters; an element without a point between its ends has a dash
// in the last cell.
func lengths(e profile.Element, format func(mm float64) string) []string {
	cells := []string{format(e.X0), format(e.X1), format(e.D0), format(e.D1), "-"}
	if _, d, ok := e.Mid(); ok {
		cells[len(cells)-1] = format(d)
	}
	return cells
}

func fraction(mm float64) string { return profile.FormatFraction(mm, ruleParts) }

// row ends every cell with a tab: the tab writer aligns only those that are ended.
func row(cells ...string) string { return strings.Join(cells, "\t") + "\t" }
