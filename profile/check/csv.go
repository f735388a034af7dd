package check

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
)

// csvHead are the columns of a file of checks: one line for every place of every copy, mm. The same file, its column
// copy_mm filled in, is read as caliper readings.
func csvHead() []string {
	return []string{"copy", "number", "x_mm", "side", "what", "original_mm", "copy_mm", "deviation_mm", "u_mm", "tolerance_mm", "verdict", "take_off_mm"}
}

// WriteCSV writes the diameters of one or more copies of one original. What is not measured is left empty.
func WriteCSV(w io.Writer, reports []Report) error {
	out := csv.NewWriter(w)
	if err := out.Write(csvHead()); err != nil {
		return err
	}
	for _, r := range reports {
		for _, s := range r.Stations {
			if err := out.Write(csvLine(r.Copy.Name, s)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("check: write the table: %w", err)
	}
	return nil
}

func csvLine(name string, s Row) []string {
	number, copied, deviation, u, off := "", "", "", "", ""
	if s.Number > 0 {
		number = strconv.Itoa(s.Number)
	}
	if !s.Absent {
		copied = hundredths(s.Copy)
	}
	if s.Verdict.Claims() {
		deviation, u = hundredths(s.Deviation), hundredths(s.U)
	}
	if t := s.TakeOff(); t > 0 {
		off = hundredths(t)
	}
	return []string{
		name, number, hundredths(s.X), string(s.Side), s.What, hundredths(s.Original), copied, deviation, u, hundredths(s.Tolerance),
		string(s.Verdict), off,
	}
}

// hundredths writes mm as calipers show them.
func hundredths(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
