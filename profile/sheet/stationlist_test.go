package sheet_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// TestCSV: a line a station, millimetres whatever the sheets' unit, both sizes at a step, a square by its side.
func TestCSV(t *testing.T) {
	p := baluster()
	p.Elements[2].U = profile.Bounds{X0: 0.12, D0: 0.21}
	got := string(rendered(t, mustMake(t, p, sheet.Options{Units: profile.Fraction, Show: sheet.Table, Allowance: 1.5}), sheet.CSV))
	for _, want := range []string{
		"number,role,kind,x_mm,ux_mm,before_mm,before_shape,after_mm,after_shape,ud_mm,sizing_mm,group,state\n",
		"\n1,edge,square,0.000,,,,44.000,square,,,,visible\n",
		"\n3,edge,fillet,144.000,0.120,38.000,round,33.000,round,0.210,34.500,c,visible\n",
		"\n5,crest,bead,153.300,,43.000,round,43.000,round,,43.300,a,visible\n",
		"\n14,inflection,ogee,215.250,,35.000,round,35.000,round,,,,damaged\n",
		",edge,,800.000,,44.000,square,,,,,,visible\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// TestJSON: the file says what it is, and holds the stations as the CSV does.
func TestJSON(t *testing.T) {
	for name, p := range examples() {
		d := mustMake(t, p, sheet.Options{Show: sheet.Table, Title: "Ø " + name, Hook: 8})
		var got sheet.StationList
		if err := json.Unmarshal(rendered(t, d, sheet.JSON), &got); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(rendered(t, d, sheet.CSV))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if got.Format != "spindlestick-stations" || got.Version != 1 || got.Title != "Ø "+name || got.Length != p.Length || got.Hook != 8 || got.Allowance != 1.588 {
			t.Errorf("%s: head %+v", name, got)
		}
		if len(got.Stations) != len(p.Stations()) || len(rows) != len(got.Stations)+1 {
			t.Fatalf("%s: %d stations in JSON, %d lines of CSV, %d in the pattern", name, len(got.Stations), len(rows), len(p.Stations()))
		}
		for i, s := range p.Stations() {
			x, err := strconv.ParseFloat(rows[i+1][3], 64)
			if err != nil || math.Abs(x-s.X) > 0.0005 || math.Abs(got.Stations[i].X-s.X) > 0.0005 || string(s.Role) != rows[i+1][1] || got.Stations[i].Role != s.Role {
				t.Errorf("%s: station %d reads %v and %+v", name, i+1, rows[i+1], got.Stations[i])
			}
		}
	}
}

// TestListOfAnyPiece: whatever is turned, JSON and CSV are read back by the standard library.
func TestListOfAnyPiece(t *testing.T) {
	check(t, func(t *rapid.T) {
		p := anyPattern(t)
		d, err := sheet.Make(p, sheet.Options{Show: sheet.Table, Title: rapid.String().Draw(t, "title")})
		if err != nil {
			t.Fatal(err)
		}
		var j, c bytes.Buffer
		if err := errors.Join(sheet.Render(d, sheet.JSON, &j), sheet.Render(d, sheet.CSV, &c)); err != nil {
			t.Fatal(err)
		}
		var got sheet.StationList
		if err := json.Unmarshal(j.Bytes(), &got); err != nil || len(got.Stations) == 0 {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&c).ReadAll()
		if err != nil || len(rows) != len(got.Stations)+1 {
			t.Fatalf("%d lines for %d stations: %v", len(rows), len(got.Stations), err)
		}
	})
}

// TestFiguresNeedNoLayout: stations too close for any stick, and a piece too wide for any paper, still give their figures.
func TestFiguresNeedNoLayout(t *testing.T) {
	var all []profile.Element
	for i := range 150 {
		all = append(all, fillet(0.1, 400+float64(i%2)))
	}
	for _, ending := range []string{"csv", "json"} {
		if err := sheet.Write(filepath.Join(t.TempDir(), "a."+ending), build(all...), sheet.Options{Show: sheet.All, Paper: sheet.A4}); err != nil {
			t.Errorf("%s: %v", ending, err)
		}
	}
	if err := sheet.Write(filepath.Join(t.TempDir(), "a.pdf"), build(all...), sheet.Options{Show: sheet.All}); err == nil {
		t.Error("the sheets were laid out")
	}
}
