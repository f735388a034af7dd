package profile

import (
	"fmt"
	"io"
	"strconv"
)

// CSVStep is the spacing of the samples in CSV files, mm.
const CSVStep = 0.25

// WriteCSV writes samples as x_mm,diameter_mm,u_mm,state.
func WriteCSV(w io.Writer, samples []Sample) error {
	if _, err := io.WriteString(w, "x_mm,diameter_mm,u_mm,state\n"); err != nil {
		return err
	}
	num := func(v float64) string { return strconv.FormatFloat(v, 'f', 4, 64) }
	for _, s := range samples {
		if _, err := fmt.Fprintf(w, "%s,%s,%s,%s\n", num(s.X), num(2*s.R), num(s.U), s.State); err != nil {
			return err
		}
	}
	return nil
}
