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
		copied := fmt.Sprintf("%.2f", s.Copy)
		if s.Absent {
			copied = "-"
		}
		fmt.Fprintf(t, "%.2f\t%s\t%.2f\t%s\t%s\t%.2f\t%s\t\n", s.X, s.What, s.Original, copied,
			apart(s.Deviation, s.U, s.Differs(), s.Verdict), s.Tolerance, s.Verdict)
	}
	if len(r.Positions) > 0 {
		fmt.Fprintln(t, "place\t\toriginal\tcopy\tdeviation\t+-\ttolerance\tverdict\t")
	}
	for _, p := range r.Positions {
		fmt.Fprintf(t, "\t%s\t%.2f\t%.2f\t%s\t%.2f\t%s\t\n", p.What, p.X, p.Copy, apart(p.Deviation, p.U, p.Differs(), p.Verdict), p.Tolerance, p.Verdict)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "* differs beyond the uncertainty. %s\n", r.Summary())
	return err
}

// apart writes a deviation and its uncertainty, two cells: a star marks one that is told apart from none, and of what was
// not seen nothing is said.
func apart(deviation, u float64, differs bool, v check.Verdict) string {
	switch {
	case v == check.NotSeen:
		return "- \t-"
	case differs:
		return fmt.Sprintf("%s*\t%.2f", check.Signed(deviation), u)
	}
	return fmt.Sprintf("%s \t%.2f", check.Signed(deviation), u)
}
