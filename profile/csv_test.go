package profile_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"spindlestick/profile"
)

func TestWriteCSV(t *testing.T) {
	var buf bytes.Buffer
	if err := profile.WriteCSV(&buf, stool().Curve(10)); err != nil {
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
	if len(rows) != 1+21 {
		t.Errorf("%d rows, want a header and 21 stations", len(rows))
	}
}
