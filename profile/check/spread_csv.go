package check

import (
	"encoding/csv"
	"fmt"
	"io"
)

// WriteSpreadCSV writes what every piece says of every diameter and length beside the likely figure, one line for each,
// mm.
func WriteSpreadCSV(w io.Writer, pieces []Piece, s Spread) error {
	out := csv.NewWriter(w)
	lines := [][]string{{"quantity", "x_mm", "what", "likely_mm", "likely_u_mm", "scatter_mm", "piece", "piece_mm", "piece_u_mm", "stands_apart"}}
	for _, part := range []struct {
		quantity string
		all      []Agreement
	}{{"diameter", s.Diameters}, {"length", s.Lengths}} {
		for _, a := range part.all {
			for _, v := range a.Words {
				apart := ""
				if v.Outlier {
					apart = "yes"
				}
				lines = append(lines, []string{
					part.quantity, hundredths(a.X), a.What, hundredths(a.Value), hundredths(a.U), hundredths(a.Scatter),
					pieces[v.Piece].Name, hundredths(v.Value), hundredths(v.U), apart,
				})
			}
		}
	}
	if err := out.WriteAll(lines); err != nil {
		return fmt.Errorf("check: write the spread: %w", err)
	}
	return nil
}
