package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
)

// table writes one row for each element: where it starts and ends from the hook end, the diameters there, the crest,
// bottom or inflection between, the largest uncertainty of these, all in mm; then the lengths in inches to 1/32.
func (p pattern) table(out io.Writer) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, row("no.", "kind", "from", "to", "dia.", "dia.", "mid dia.", "+-", "from", "to", "dia.", "dia.", "mid dia."))
	fmt.Fprintln(w, row("", "", "mm", "mm", "mm", "mm", "mm", "mm", "in", "in", "in", "in", "in"))
	for i, e := range p.Elements {
		cells := append([]string{fmt.Sprint(i + 1), e.Kind}, e.cells(hundredths)...)
		cells = append(cells, e.uncertainty())
		fmt.Fprintln(w, row(append(cells, e.cells(inches)...)...))
	}
	if err := w.Flush(); err != nil {
		return fmt.Errorf("the table could not be printed: %w", err)
	}
	_, err := fmt.Fprintf(out, "Overall length %s mm, %s in.\n", hundredths(p.Length), inches(p.Length))
	return err
}

// cells writes an element's stations and diameters, with a dash where there is no point between its ends.
func (e element) cells(format func(mm float64) string) []string {
	cells := []string{format(e.X0), format(e.X1), format(e.D0), format(e.D1), "-"}
	if d, ok := e.mid(); ok {
		cells[len(cells)-1] = format(d)
	}
	return cells
}

// uncertainty writes the largest of the diameters' uncertainties, or a dash where none is known.
func (e element) uncertainty() string {
	if u := max(e.U.D0, e.U.D1, e.U.Mid); u > 0 {
		return hundredths(u)
	}
	return "-"
}

// row ends every cell with a tab: the tab writer aligns only those that are ended.
func row(cells ...string) string { return strings.Join(cells, "\t") + "\t" }

func hundredths(mm float64) string { return fmt.Sprintf("%.2f", mm) }

const (
	mmPerInch = 25.4 // exact since 1959
	parts     = 32   // of an inch, on the rule at the bench
)

// inches writes a length from 0 upwards as whole inches and the nearest 1/32 in lowest terms, as a rule is read: 1 5/16.
func inches(mm float64) string {
	n := int64(math.Round(mm / mmPerInch * parts))
	whole, above, below := n/parts, n%parts, int64(parts)
	if above == 0 {
		return fmt.Sprint(whole)
	}
	for above%2 == 0 {
		above, below = above/2, below/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", above, below)
	}
	return fmt.Sprintf("%d %d/%d", whole, above, below)
}
