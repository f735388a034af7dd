package sheet_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// rowsOf returns the lines of text on a page: what stands at one height, from left to right as drawn.
func rowsOf(p sheet.Page) []string {
	var out []string
	last := math.NaN()
	for _, t := range textsOf(p) {
		if t.At.Y == last {
			out[len(out)-1] += "|" + t.S
			continue
		}
		out, last = append(out, t.S), t.At.Y
	}
	return out
}

func contains(rows []string, want string) bool {
	for _, r := range rows {
		if r == want {
			return true
		}
	}
	return false
}

// TestTable: a line for every station, with both diameters at a step, the side of a square and what is known of the
// uncertainty.
func TestTable(t *testing.T) {
	p := baluster()
	p.Elements[2].U = profile.Bounds{X0: 0.12, D0: 0.21}
	d := mustMake(t, p, sheet.Options{Show: sheet.Table})
	if len(d.Pages) != 1 {
		t.Fatalf("%d pages", len(d.Pages))
	}
	rows := rowsOf(d.Pages[0])
	for _, want := range []string{
		"no.|what|from hook end, mm|± mm|diameter, mm|after a step, mm|± mm|size to, mm",
		"1|square|0.00|□ 44.00", "2|shoulder|128.00|□ 44.00", "3|fillet|144.00|0.12|38.00|33.00|0.21|34.59 c",
		"5|its crest|153.30|43.00|43.30 a", "14|its inflection, damaged|215.25|35.00", "15|taper|238.00|42.00|43.59",
	} {
		if !contains(rows, want) {
			t.Errorf("no line %q in\n%s", want, strings.Join(rows, "\n"))
		}
	}
}

// TestTableOverPages: a long table goes on with its head on the next page, and loses no station.
func TestTableOverPages(t *testing.T) {
	var all []profile.Element
	for i := range 120 {
		all = append(all, fillet(10, 20+float64(i%2)))
	}
	d := mustMake(t, build(all...), sheet.Options{Show: sheet.Table})
	seen := 0
	for _, page := range d.Pages {
		rows := rowsOf(page)
		if !contains(rows, "no.|what|from hook end, mm|± mm|diameter, mm|after a step, mm|± mm|size to, mm") {
			t.Errorf("%s has no head", page.Name)
		}
		for n := 1; n <= 121; n++ {
			for _, r := range rows {
				if strings.HasPrefix(r, strconv.Itoa(n)+"|f") {
					seen++
				}
			}
		}
	}
	if len(d.Pages) < 2 || seen != 121 {
		t.Errorf("%d stations on %d pages", seen, len(d.Pages))
	}
}
