package sheet_test

import (
	"math"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// TestHook: a blank that goes on before its first station moves every line by just that from the lip, and station 1 gets
// a line of its own; the figures stay those from the finished end.
func TestHook(t *testing.T) {
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter, sheet.Roll} {
		for _, hook := range []float64{6, 25.4, 100} {
			d := mustMake(t, baluster(), sheet.Options{Hook: hook, Paper: paper, Units: profile.Inch})
			var want []float64
			for _, x := range edgesOf(baluster()) {
				want = append(want, x+hook)
			}
			carries(t, measured(t, stripsOf(d)), want)
			if n := mentions(upright(d), profile.FormatLength(128, profile.Inch)); n != 1 {
				t.Errorf("%s, hook %v: 128 mm from the finished end stands %d times", paper, hook, n)
			}
			for _, page := range d.Pages {
				for _, f := range pageFaults(page) {
					t.Errorf("%s, hook %v: %s", paper, hook, f)
				}
			}
		}
	}
}

// TestCutSideBlocks: the dark foot lies on the downhill side of its line, clear of it by half a mm, and as high as the
// line is heavy.
func TestCutSideBlocks(t *testing.T) {
	p := build(straight(profile.Cylinder, 40, 30, 30), straight(profile.Cylinder, 40, 20, 20), straight(profile.Cylinder, 40, 30, 30))
	d := mustMake(t, p, sheet.Options{})
	strips := stripsOf(d)
	lip := strips[0].hook
	var got []sheet.Area
	for _, m := range d.Pages[0].Marks {
		if a, ok := m.(sheet.Area); ok && a.Layer == sheet.Stations {
			got = append(got, a)
		}
	}
	if len(got) != 2 {
		t.Fatalf("%d blocks, want 2", len(got))
	}
	for i, want := range [][2]float64{{40.65, 42.4}, {77.6, 79.35}} { // both on the thin part's side
		if a, b := got[i].Pts[0].X-lip, got[i].Pts[1].X-lip; math.Abs(a-want[0]) > same || math.Abs(b-want[1]) > same {
			t.Errorf("a block from %.2f to %.2f mm, want %v", a, b, want)
		}
	}
}
