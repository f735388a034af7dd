package profile_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"spindlestick/profile"
)

func TestSamplesShowBothSidesOfAStep(t *testing.T) {
	s := stool().Samples(profile.CSVStep)
	var at50 []float64
	for i, v := range s {
		if v.X == 50 {
			at50 = append(at50, 2*v.R)
		}
		if i > 0 && (v.X < s[i-1].X || v.X-s[i-1].X > profile.CSVStep+1e-9) {
			t.Errorf("samples go from %v to %v", s[i-1].X, v.X)
		}
	}
	if len(at50) != 2 || at50[0] != 24 || at50[1] != 22 {
		t.Errorf("at the shoulder: %v, want 24 then 22", at50)
	}
}

func TestWriteCSV(t *testing.T) {
	var buf bytes.Buffer
	if err := profile.WriteCSV(&buf, stool().Samples(10)); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(buf.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], ","); got != "x_mm,diameter_mm,u_mm,state" {
		t.Errorf("header %q", got)
	}
	if got := strings.Join(rows[1], ","); got != "0.0000,30.0000,0.0000,visible" {
		t.Errorf("first row %q", got)
	}
}
