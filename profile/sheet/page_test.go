package sheet_test

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// checkBars returns the lengths of the check bars of a page, longest first: mm.
func checkBars(p sheet.Page) (level, upright []float64) {
	for _, m := range p.Marks {
		l, ok := m.(sheet.Line)
		if !ok || l.Pen.Layer != sheet.Check {
			continue
		}
		dx, dy := math.Abs(l.Pts[1].X-l.Pts[0].X), math.Abs(l.Pts[1].Y-l.Pts[0].Y)
		switch {
		case dx > 40:
			level = append(level, dx)
		case dy > 40:
			upright = append(upright, dy)
		}
	}
	return level, upright
}

// TestPageSizes: A4 and A3 are those of ISO 216, letter and tabloid 8.5 x 11 and 11 x 17 in of 25.4 mm.
func TestPageSizes(t *testing.T) {
	want := map[sheet.Paper][2]float64{sheet.A4: {210, 297}, sheet.A3: {297, 420}, sheet.Letter: {215.9, 279.4}, sheet.Tabloid: {279.4, 431.8}}
	for paper, size := range want {
		for _, page := range mustMake(t, baluster(), sheet.Options{Show: sheet.All, Paper: paper}).Pages {
			short, long := math.Min(page.Width, page.Height), math.Max(page.Width, page.Height)
			if math.Abs(short-size[0]) > 1e-9 || math.Abs(long-size[1]) > 1e-9 {
				t.Errorf("%s, %s: %.3f x %.3f mm", paper, page.Name, short, long)
			}
		}
	}
}

// TestCheckBars: every page carries 100 mm across and 50 or 100 mm upright, and 4 in = 101.6 mm when the figures are
// in inches.
func TestCheckBars(t *testing.T) {
	for _, paper := range sheet.Papers() {
		for _, u := range []profile.Unit{profile.MM, profile.Fraction} {
			d := mustMake(t, baluster(), sheet.Options{Show: sheet.All, Paper: paper, Units: u})
			for _, page := range d.Pages {
				level, upright := checkBars(page)
				if len(level) == 0 || math.Abs(level[0]-100) > 1e-9 {
					t.Errorf("%s %s: level bars %v", paper, page.Name, level)
				}
				if u != profile.MM && (len(level) != 2 || math.Abs(level[1]-101.6) > 1e-9) {
					t.Errorf("%s %s: no bar of 4 in: %v", paper, page.Name, level)
				}
				if len(upright) != 1 || math.Abs(upright[0]-100) > 1e-9 && math.Abs(upright[0]-50) > 1e-9 {
					t.Errorf("%s %s: upright bars %v", paper, page.Name, upright)
				}
			}
		}
	}
}

// TestEveryPageSaysHowToPrint and which page it is.
func TestEveryPageSaysHowToPrint(t *testing.T) {
	d := mustMake(t, baluster(), sheet.Options{Show: sheet.All})
	for i, page := range d.Pages {
		var b strings.Builder
		for _, text := range textsOf(page) {
			b.WriteString(text.S + " ")
		}
		for _, want := range []string{"Print at 100 %, no fitting.", "Measure the bars first.", "page " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(d.Pages))} {
			if !strings.Contains(b.String(), want) {
				t.Errorf("%s does not say %q", page.Name, want)
			}
		}
	}
}

func TestOptionsThatCannotBe(t *testing.T) {
	for name, o := range map[string]sheet.Options{
		"paper": {Paper: "a9"}, "show": {Show: "poster"}, "units": {Units: "cubit"}, "scale": {ScaleX: 1.5},
		"not a scale": {ScaleY: math.NaN()}, "group": {Group: math.NaN()}, "hook": {Hook: -1}, "long hook": {Hook: 101}, "no hook": {Hook: math.NaN()},
		"allowance": {Allowance: 21}, "no allowance": {Allowance: math.NaN()},
	} {
		if _, err := sheet.Make(finial(), o); err == nil || !strings.HasPrefix(err.Error(), "sheet: ") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := sheet.Make(profile.Pattern{}, sheet.Options{}); !errors.Is(err, profile.ErrPattern) {
		t.Errorf("an empty pattern: %v", err)
	}
	fat := build(straight(profile.Cylinder, 50, 400, 400))
	if _, err := sheet.Make(fat, sheet.Options{Show: sheet.Drawing}); err == nil || !strings.Contains(err.Error(), "larger paper") {
		t.Errorf("a piece 400 mm across on A4: %v", err)
	}
}

// TestCrowdedStationsAreRefused: 150 stations within 15 mm find no room on any paper.
func TestCrowdedStationsAreRefused(t *testing.T) {
	var all []profile.Element
	for i := range 150 {
		all = append(all, fillet(0.1, 20+float64(i%2)))
	}
	if _, err := sheet.Make(build(all...), sheet.Options{}); !errors.Is(err, sheet.ErrCrowded) {
		t.Errorf("error %v", err)
	}
}

func TestFormatOf(t *testing.T) {
	for name, want := range map[string]sheet.Format{"a.pdf": sheet.PDF, "b.SVG": sheet.SVG, "c.d.dxf": sheet.DXF, "e.png": sheet.PNG, "f.csv": sheet.CSV, "g.JSON": sheet.JSON} {
		if got, err := sheet.FormatOf(name); got != want || err != nil {
			t.Errorf("%s: %s, %v", name, got, err)
		}
	}
	if _, err := sheet.FormatOf("stick.doc"); err == nil {
		t.Error("stick.doc was taken")
	}
	if err := sheet.Render(sheet.Document{}, "doc", &bytes.Buffer{}); err == nil {
		t.Error("format doc was rendered")
	}
}

// TestSameSheetSameBytes: a document renders to the same file each time, so that files can be compared.
func TestSameSheetSameBytes(t *testing.T) {
	d := mustMake(t, finial(), sheet.Options{Show: sheet.All, Title: "Finial, Ø 36"})
	for _, f := range sheet.Formats() {
		var a, b bytes.Buffer
		if err := sheet.Render(d, f, &a); err != nil {
			t.Fatal(err)
		}
		if err := sheet.Render(mustMake(t, finial(), sheet.Options{Show: sheet.All, Title: "Finial, Ø 36"}), f, &b); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s differs from one time to the next", f)
		}
	}
}
