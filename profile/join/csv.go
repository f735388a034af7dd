package join

import (
	"fmt"
	"io"
)

// WriteCSV writes the rows as x_mm,first_mm,second_mm,mean_mm,difference_mm,u_mm, u the expanded uncertainty of the
// difference.
func (o Oval) WriteCSV(w io.Writer) error {
	if _, err := io.WriteString(w, "x_mm,first_mm,second_mm,mean_mm,difference_mm,u_mm\n"); err != nil {
		return err
	}
	for _, r := range o.Rows {
		if _, err := fmt.Fprintf(w, "%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n", r.X, r.D[0], r.D[1], r.Mean, r.Difference, r.U); err != nil {
			return err
		}
	}
	return nil
}
