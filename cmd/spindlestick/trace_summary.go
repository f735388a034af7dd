package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
)

// printSummary writes a line for every photograph: what it gave, or why it gave nothing.
func printSummary(w io.Writer, parcels []*parcel) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "photograph\telements\tlength, mm\t+-\t")
	for _, p := range parcels {
		if p.err != nil {
			reason, _, _ := strings.Cut(p.err.Error(), "\n")
			fmt.Fprintf(t, "%s\tfailed\t\t\t%s\n", p.photo, reason)
			continue
		}
		fmt.Fprintf(t, "%s\t%d\t%.2f\t%.2f\t\n", p.photo, len(p.job.Pattern.Elements), p.job.Pattern.Length, p.job.Pattern.ULength)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	bad := failures(parcels)
	_, err := fmt.Fprintf(w, "%d photographs: %d traced, %d failed\n", len(parcels), len(parcels)-bad, bad)
	return err
}
