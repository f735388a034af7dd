package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"spindlestick/profile/check"
)

// printReport writes a comparison as two tables, mm.
func printReport(w io.Writer, r check.Report) error {
	fmt.Fprintf(w, "%s against %s, laid by the %s\n", r.Copy.Name, r.Original.Name, r.Alignment)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "station\twhat\toriginal\tcopy\tdeviation\t+-\ttolerance\tverdict\t")
	for _, s := range r.Stations {
		if s.Absent {
			fmt.Fprintf(t, "%.2f\t%s\t%.2f\t-\t-\t-\t%.2f\t%s\t\n", s.X, s.What, s.Original, s.Tolerance, s.Verdict)
			continue
		}
		fmt.Fprintf(t, "%.2f\t%s\t%.2f\t%.2f\t%s%s\t%.2f\t%.2f\t%s\t\n", s.X, s.What, s.Original, s.Copy, check.Signed(s.Deviation), star(s.Differs()), s.U, s.Tolerance, s.Verdict)
	}
	if len(r.Positions) > 0 {
		fmt.Fprintln(t, "place\t\toriginal\tcopy\tdeviation\t+-\ttolerance\tverdict\t")
	}
	for _, p := range r.Positions {
		fmt.Fprintf(t, "\t%s\t%.2f\t%.2f\t%s%s\t%.2f\t%.2f\t%s\t\n", p.What, p.X, p.Copy, check.Signed(p.Deviation), star(p.Differs()), p.U, p.Tolerance, p.Verdict)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "* differs beyond the uncertainty. %s\n", r.Summary())
	return err
}

// star marks a deviation that is told apart from none; the blank keeps the column in line.
func star(differs bool) string {
	if differs {
		return "*"
	}
	return " "
}
