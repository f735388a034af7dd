package sheet

import (
	"math"
	"testing"

	"spindlestick/profile"
)

// TestSizes: at a shoulder the hook end's side comes first; a square is measured by its side, beside its shoulder too.
func TestSizes(t *testing.T) {
	p := profile.Pattern{Length: 100, Elements: []profile.Element{
		{Kind: profile.Square, X1: 40, D0: 44, D1: 44, Side: 44},
		{Kind: profile.Shoulder, X0: 40, X1: 50, D0: 44 * math.Sqrt2, D1: 38.1, Side: 44, Style: profile.Straight},
		{Kind: profile.Fillet, X0: 50, X1: 60, D0: 31.75, D1: 31.75},
		{Kind: profile.Taper, X0: 60, X1: 100, D0: 31.79, D1: 20},
	}}
	want := []string{"□ 44.0", "□ 44.0", "38.1 → 31.8", "31.8", "20.0"}
	for i, s := range Numbered(p) {
		if got := sizes(p, s, profile.MM); got != want[i] {
			t.Errorf("station %d reads %q, want %q", i+1, got, want[i])
		}
	}
	// 38.1 mm = 1 1/2 in and 31.75 mm = 1 1/4 in, at 25.4 mm an inch.
	if got := sizes(p, Numbered(p)[2], profile.Fraction); got != "1 1/2 → 1 1/4" {
		t.Errorf("in inches the step reads %q", got)
	}
}

// TestRemarks: R = 8 1/3 over a chord of 16 with a height of 6 (Machinery's Handbook, segments of circles); a taper
// of 1/2 in a foot has an included angle of 2° 23' 10" (Machinery's Handbook, tapers per foot).
func TestRemarks(t *testing.T) {
	for want, e := range map[string]profile.Element{
		"bead R 8.3":   {Kind: profile.Bead, X1: 16, D0: 20, D1: 20, Sagitta: 6},
		"taper 2.4°":   {Kind: profile.Taper, X1: 304.8, D0: 25.4, D1: 38.1},
		"square 15.0":  {Kind: profile.Square, X1: 10, D0: 15, D1: 15},
		"vee 90.0°":    {Kind: profile.Vee, X1: 8, D0: 20, D1: 20, InnerX: 4, InnerD: 12},
		"fillet":       {Kind: profile.Fillet, X1: 8, D0: 20, D1: 20},
		"shoulder":     {Kind: profile.Shoulder, X1: 8, D0: 20, D1: 15, Style: profile.Straight},
		"cove R 12.0":  {Kind: profile.Cove, X1: 13.266, D0: 20, D1: 20, Sagitta: -2}, // radius 12, depth 2: chord 13.27 (Machinery's Handbook)
		"cylinder":     {Kind: profile.Cylinder, X1: 8, D0: 20, D1: 20},
		"half-bead":    {Kind: profile.HalfBead, X1: 8, D0: 20, D1: 15},
		"swell R 60.0": {Kind: profile.Swell, X1: 59.867, D0: 20, D1: 20, Sagitta: 8}, // radius 60, height 8: chord 59.86
	} {
		if got := remark(e, profile.MM); got != want {
			t.Errorf("%s reads %q, want %q", e.Kind, got, want)
		}
	}
}

// TestCrestAtAnEndIsOneLine: a half-bead whose crest falls onto its own end gives one station, not two.
func TestCrestAtAnEndIsOneLine(t *testing.T) {
	e, _ := profile.Element{Kind: profile.HalfBead, X1: 10, D0: 20, D1: 12}.WithMid(20.0001)
	p := profile.Pattern{Length: 10, Elements: []profile.Element{e}}
	if len(p.Stations()) != 3 || len(Numbered(p)) != 2 {
		t.Errorf("%d stations, of which %d are drawn", len(p.Stations()), len(Numbered(p)))
	}
}

// TestShoulderOutlineStopsAtTheFlat: face on, a shoulder never shows more than half its square, and the flat ends where
// the radius has fallen to that (derived: the silhouette of a square with rounded-off corners).
func TestShoulderOutlineStopsAtTheFlat(t *testing.T) {
	e := profile.Element{Kind: profile.Shoulder, X1: 16, D0: 40 * math.Sqrt2, D1: 30, Side: 40, Style: profile.Quarter, Sagitta: -2}
	for _, q := range outline(profile.Pattern{Length: 16, Elements: []profile.Element{e}}) {
		if math.Max(q.R0, q.R1) > 20+1e-9 {
			t.Errorf("the outline reaches %v mm from the axis", math.Max(q.R0, q.R1))
		}
		if q.X1 > q.X0 && !q.Straight() && math.Abs(q.R0-20) > 1e-6 {
			t.Errorf("the round begins %v mm from the axis", q.R0)
		}
	}
}
