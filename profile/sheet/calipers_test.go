package sheet_test

import (
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// upright returns the texts that run along the station lines of a document's stick, in order.
func upright(d sheet.Document) []string {
	var out []string
	for _, page := range d.Pages {
		for _, t := range textsOf(page) {
			if t.Turn != 0 {
				out = append(out, t.S)
			}
		}
	}
	return out
}

func mentions(texts []string, want string) int {
	n := 0
	for _, s := range texts {
		if s == want {
			n++
		}
	}
	return n
}

// TestSizingDiameters: a diameter is sized 1/16 in over (Milton & Wohlers, A Course in Wood Turning, 1919, A-I-3): 1 1/4 in
// to 1 5/16 in. At a step the tool goes to the smaller one; flats and vees are not sized. A letter stands where a setting of
// the calipers serves another cut as well, be it the far end of the same cylinder.
func TestSizingDiameters(t *testing.T) {
	p := build(square(60, 50.8), straight(profile.Cylinder, 60, 38.1, 38.1), straight(profile.Taper, 60, 31.75, 25.4), vee(20, 25.4, 12.7), straight(profile.Cylinder, 30, 19.05, 19.05))
	got := upright(mustMake(t, p, sheet.Options{Units: profile.Fraction}))
	for want, n := range map[string]int{"1 9/16 a": 1, "1 5/16": 1, "1 1/16": 1, "13/16 b": 2, "9/16": 0, "2 1/16": 0} {
		if mentions(got, want) != n {
			t.Errorf("%q stands %d times on the stick, want %d: %q", want, mentions(got, want), n, got)
		}
	}
	if got := upright(mustMake(t, p, sheet.Options{Units: profile.Fraction, Allowance: 25.4 / 4})); mentions(got, "1 3/4 a") != 1 {
		t.Errorf("with 1/4 in, 1 1/2 in is not sized to 1 3/4 in: %q", got)
	}
	if got := upright(mustMake(t, p, sheet.Options{Units: profile.Fraction, Allowance: -1})); mentions(got, "1 9/16 a") != 0 || mentions(got, "a") != 1 || mentions(got, "b") != 2 {
		t.Errorf("without an allowance: %q", got)
	}
}

// TestGroups: equal diameters share a letter, from large to small, and the setting of the largest of them, on stick and
// table alike; a lone one has none, a
// square's side is no diameter.
func TestGroups(t *testing.T) {
	p := build(square(50, 44), fillet(5, 30), fillet(5, 25), fillet(5, 30.1), fillet(5, 25), straight(profile.Taper, 60, 30.05, 18), straight(profile.Cylinder, 20, 29.93, 29.93))
	rows := rowsOf(mustMake(t, p, sheet.Options{Show: sheet.Table}).Pages[0])
	for _, want := range []string{
		"a: Ø 30.10 mm, sized to 31.69 at stations 2, 8", "b: Ø 25.00 mm, sized to 26.59 at stations 3, 4, 5, 6",
	} {
		if !contains(rows, want) {
			t.Errorf("no %q in\n%s", want, strings.Join(rows, "\n"))
		}
	}
	stick := upright(mustMake(t, p, sheet.Options{}))
	if a, b := mentions(stick, "31.7 a"), mentions(stick, "26.6 b"); a != 2 || b != 4 {
		t.Errorf("the stick shows setting a %d times, b %d times: %q", a, b, stick)
	}
	for _, r := range rowsOf(mustMake(t, p, sheet.Options{Show: sheet.Table, Group: -1}).Pages[0]) {
		if strings.Contains(r, "30.10 mm, sized") {
			t.Errorf("diameters that differ share a setting: %s", r)
		}
	}
}

// TestNumbersAgree: a station has the same number on stick, drawing, template and table, and in the list of stations.
func TestNumbersAgree(t *testing.T) {
	for name, p := range examples() {
		list := mustMake(t, p, sheet.Options{}).List.Stations
		for _, show := range []sheet.Show{sheet.Stick, sheet.Drawing, sheet.Template} {
			found := map[string]string{} // number under a distance, by the column they share
			for _, page := range mustMake(t, p, sheet.Options{Show: show, Units: profile.Inch}).Pages {
				texts := textsOf(page)
				for i, s := range texts {
					if i > 0 && s.Turn == 0 && s.Cap == 1.8 && texts[i-1].Turn != 0 {
						found[s.S] = texts[i-1].S
					}
				}
			}
			for _, s := range list {
				number := ordinalOf(s.Number)
				if want := profile.FormatLength(s.X, profile.Inch); found[number] != want {
					t.Errorf("%s, %s: station %s stands at %q, want %s", name, show, number, found[number], want)
				}
			}
		}
	}
}
