package sheet_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

func ordinalOf(n int) string { return strconv.Itoa(n) }

// crowded has 24 steps 2.1 mm apart: too close for figures on one face.
func crowded() profile.Pattern {
	all := []profile.Element{straight(profile.Taper, 60, 20, 30)}
	for i := range 24 {
		all = append(all, fillet(2.1, 26+2*float64(i%3)))
	}
	return build(append(all, straight(profile.Taper, 60, 30, 20))...)
}

// TestTwoFaces: where lines crowd the stick has a second face beyond the fold at its working edge. Odd stations are
// lettered on one side, even ones on the other and upside down; all lines stand on both, and no text is lost or touches
// another.
func TestTwoFaces(t *testing.T) {
	p := crowded()
	for _, paper := range sheet.Papers() {
		d := mustMake(t, p, sheet.Options{Paper: paper})
		strips := stripsOf(d)
		carries(t, measured(t, strips), edgesOf(p))
		fold := strips[0].edge
		seen := map[string]int{}
		for _, text := range textsOf(d.Pages[0]) {
			n, err := strconv.Atoi(text.S)
			if err != nil || text.Cap != 1.8 {
				continue
			}
			seen[text.S]++
			over := text.At.Y < fold
			if over != (n%2 == 1) || over != (text.Turn == 0) {
				t.Errorf("%s: station %d stands %.1f mm from the fold, turned by %.2f", paper, n, text.At.Y-fold, text.Turn)
			}
		}
		for i := range p.Stations() {
			if seen[strconv.Itoa(i+1)] != 1 {
				t.Errorf("%s: station %d is lettered %d times", paper, i+1, seen[strconv.Itoa(i+1)])
			}
		}
		for _, page := range d.Pages {
			for _, f := range pageFaults(page) {
				t.Errorf("%s: %s", paper, f)
			}
		}
		mirrored(t, d.Pages[0], fold)
	}
	for name, p := range examples() {
		if onBothSides(t, p) {
			t.Errorf("%s needs no second face", name)
		}
	}
}

// mirrored checks that every station's line over the fold has its like under it.
func mirrored(t *testing.T, page sheet.Page, fold float64) {
	t.Helper()
	over, under := map[int]int{}, map[int]int{}
	for _, m := range page.Marks {
		l, ok := m.(sheet.Line)
		if !ok || l.Pen.Layer != sheet.Stations || l.Pen.Width != 0.2 {
			continue
		}
		key := int(math.Round(l.Pts[0].X * 1000))
		if l.Pts[1].Y < fold {
			over[key]++
		} else {
			under[key]++
		}
	}
	if len(over) != len(under) || len(over) == 0 {
		t.Errorf("%d lines on one face, %d on the other", len(over), len(under))
	}
	for x := range over {
		if under[x] != over[x] {
			t.Errorf("the line at %.3f mm stands on one face only", float64(x)/1000)
		}
	}
}

func onBothSides(t *testing.T, p profile.Pattern) bool {
	t.Helper()
	for _, page := range mustMake(t, p, sheet.Options{}).Pages {
		for _, text := range textsOf(page) {
			if math.Abs(math.Abs(text.Turn)-math.Pi) < 1e-9 || text.Turn > math.Pi {
				return true
			}
		}
	}
	return false
}

// TestLegendIsWhole: every mark is explained once, on a short piece and on one of several strips, and none that does not
// occur.
func TestLegendIsWhole(t *testing.T) {
	for name, p := range map[string]profile.Pattern{"finial": finial(), "baluster": baluster(), "spindle": spindle()} {
		for _, paper := range sheet.Papers() {
			d := mustMake(t, p, sheet.Options{Paper: paper, Hook: 8})
			for _, want := range []string{"this edge against the work", "waste before line 1: 8.0 mm", "dark foot: cut on that side", "small figure: size to it",
				"same letter: same setting", "broken: crest or bottom", "hatched: worn, hidden or inferred"} {
				n := 0
				for _, page := range d.Pages {
					for _, text := range textsOf(page) {
						if text.S == want {
							n++
						}
					}
				}
				expected := 1
				if strings.HasPrefix(want, "hatched") && name != "baluster" {
					expected = 0
				}
				if n != expected {
					t.Errorf("%s on %s: %q stands %d times", name, paper, want, n)
				}
			}
		}
	}
}
