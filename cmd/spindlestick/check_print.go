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
	for _, v := range r.Stray {
		fmt.Fprintf(w, "a reading at %.2f mm belongs to no station of the original\n", v.X)
	}
	_, err := fmt.Fprintf(w, "* differs beyond the uncertainty. %s\n", r.Summary())
	return err
}

// printSet writes how the copies stand, what to take off where, and which to put side by side.
func printSet(w io.Writer, reports []check.Report) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	if len(reports) > 1 {
		fmt.Fprintln(t, "\ncopy\tmeasured\tas a whole\t")
	}
	for _, r := range reports {
		if n, of := r.Measured(); len(reports) > 1 {
			fmt.Fprintf(t, "%s\t%d of %d\t%s\t\n", r.Copy.Name, n, of, r.Standing())
		}
	}
	for _, r := range reports {
		for _, s := range r.Stations {
			switch {
			case s.TakeOff() > 0:
				fmt.Fprintf(t, "%s\tat %.2f\t%s\ttake %.2f off the diameter\t\n", r.Copy.Name, s.X, s.What, s.TakeOff())
			case s.Lost():
				fmt.Fprintf(t, "%s\tat %.2f\t%s\ttoo thin by %.2f\t\n", r.Copy.Name, s.X, s.What, -s.Deviation)
			}
		}
	}
	if err := t.Flush(); err != nil || len(reports) < 2 {
		return err
	}
	return printPairs(w, reports)
}

func printPairs(w io.Writer, reports []check.Report) error {
	p := check.SideBySide(reports)
	if len(p.Pairs) == 0 {
		return nil
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\nside by side\t\tmean difference\tlargest\tat\t")
	for _, q := range p.Pairs {
		fmt.Fprintf(t, "%s\t%s\t%.2f\t%.2f\t%.2f\t\n", reports[q.A].Copy.Name, reports[q.B].Copy.Name, q.Mean, q.Worst, q.At)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w, p.Words(reports))
	return err
}

// apart writes a deviation and its uncertainty, two cells: a star marks one that is told apart from none, and of what was
// not seen nothing is said.
func apart(deviation, u float64, differs bool, v check.Verdict) string {
	switch {
	case !v.Claims():
		return "- \t-"
	case differs:
		return fmt.Sprintf("%s*\t%.2f", check.Signed(deviation), u)
	}
	return fmt.Sprintf("%s \t%.2f", check.Signed(deviation), u)
}
