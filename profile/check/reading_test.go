package check

import (
	"math"
	"strings"
	"testing"

	"spindlestick/profile"
)

func original() Piece { return Piece{Name: "original", Pattern: pattern(baluster())} }

func mustGauges(t testing.TB, o Options) []Gauge {
	t.Helper()
	g, err := Gauges(original(), o)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// exact reads every gauge of the original off by the same.
func exact(t testing.TB, name string, by float64) Piece {
	p := Piece{Name: name, Gauged: true}
	for _, g := range mustGauges(t, Options{}) {
		p.Readings = append(p.Readings, Reading{g.X, g.Side, g.Diameter + by})
	}
	return p
}

// TestGaugesAreInWorkshopOrder: along the piece, a step's hook side first, and nowhere that calipers do not reach.
func TestGaugesAreInWorkshopOrder(t *testing.T) {
	gauges := mustGauges(t, Options{})
	for i, g := range gauges {
		if strings.Contains(g.What, string(profile.Vee)+", bottom") || strings.Contains(g.What, string(profile.Inflection)) {
			t.Errorf("%s at %.1f mm cannot be measured", g.What, g.X)
		}
		if i == 0 {
			continue
		}
		if p := gauges[i-1]; g.X < p.X || g.X == p.X && (p.Side != HookSide || g.Side != FarSide) {
			t.Errorf("%s %s at %.1f mm comes after %s %s at %.1f mm", g.What, g.Side, g.X, p.What, p.Side, p.X)
		}
	}
	// Square to fillet steps; the bead beside the fillet does not.
	if g := gauges[1]; g.Side != HookSide || g.Diameter != 40 || g.X != 60 {
		t.Errorf("the square's end is %+v", g)
	}
	if g := gauges[2]; g.Side != FarSide || g.Diameter != 30 {
		t.Errorf("the fillet's start is %+v", g)
	}
	if g := gauges[3]; g.Side != OneSize || g.X != 64 {
		t.Errorf("the fillet's end is %+v", g)
	}
}

// TestReadingsAreJudged by the guard band: with a caliper's U of 0.06 mm and an exact original, inside ends and outside
// begins 0.06 mm either side of the tolerance.
func TestReadingsAreJudged(t *testing.T) {
	for _, c := range []struct {
		by   float64
		want Verdict
	}{{0, Inside}, {0.44, Inside}, {-0.44, Inside}, {0.46, Unsure}, {0.55, Unsure}, {-0.55, Unsure}, {0.57, Outside}, {-0.57, Outside}} {
		r, err := Compare(original(), exact(t, "copy", c.by), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range r.Stations {
			if s.Verdict != c.want {
				t.Errorf("off by %v: %s at %.1f mm is %s, want %s", c.by, s.What, s.X, s.Verdict, c.want)
			}
		}
		if got := r.Standing(); got != c.want {
			t.Errorf("off by %v: as a whole %s, want %s", c.by, got, c.want)
		}
	}
}

func TestACopyFillsUp(t *testing.T) {
	gauges := mustGauges(t, Options{})
	p := Piece{Name: "copy", Gauged: true}
	for i := range gauges {
		r, err := Compare(original(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		n, of := r.Measured()
		if n != i || of != len(gauges) || r.Standing() != NotMeasured {
			t.Fatalf("after %d readings: %d of %d, %s", i, n, of, r.Standing())
		}
		p = p.Put(gauges, i, gauges[i].Diameter)
	}
	r, _ := Compare(original(), p, Options{})
	if r.Standing() != Inside {
		t.Errorf("all read: %s", r.Standing())
	}
	p = p.Put(gauges, 4, 0)
	p = p.Put(gauges, 2, gauges[2].Diameter+1)
	r, _ = Compare(original(), p, Options{})
	if r.Stations[4].Verdict != NotMeasured || r.Stations[2].TakeOff() != 1 || r.Standing() != Outside {
		t.Errorf("one taken back, one a mm over: %+v, %+v", r.Stations[4], r.Stations[2])
	}
	for i, s := range r.Stations {
		if i != 2 && s.TakeOff() != 0 {
			t.Errorf("%v mm are to go off at %.1f mm", s.TakeOff(), s.X)
		}
	}
}

// TestPutLeavesTheOtherAlone: pieces are values, undo keeps the old ones.
func TestPutLeavesTheOtherAlone(t *testing.T) {
	gauges := mustGauges(t, Options{})
	a := Piece{Gauged: true}.Put(gauges, 0, 40)
	b := a.Put(gauges, 0, 41)
	c := a.Put(gauges, 1, 39)
	if a.Readings[0].D != 40 || b.Readings[0].D != 41 || len(a.Readings) != 1 || len(c.Readings) != 2 {
		t.Errorf("%v, %v, %v", a.Readings, b.Readings, c.Readings)
	}
}

// TestReadingsFollowASmallChange of the pattern, and are kept when there is no station for them any more.
func TestReadingsFollowASmallChange(t *testing.T) {
	copied := exact(t, "copy", 0)
	s := baluster()
	s[6].length += 1.5 // every station after the taper moves
	moved := Piece{Pattern: pattern(s)}
	r, err := Compare(moved, copied, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n, of := r.Measured(); n != of || len(r.Stray) > 0 {
		t.Errorf("%d of %d, %d astray", n, of, len(r.Stray))
	}
	s[6].length += 40
	r, err = Compare(Piece{Pattern: pattern(s)}, copied, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n, _ := r.Measured(); n+len(r.Stray) != len(copied.Readings) || len(r.Stray) == 0 {
		t.Errorf("%d found a place and %d are astray of %d", n, len(r.Stray), len(copied.Readings))
	}
}

func TestWhatTheOriginalDoesNotShowIsNotJudged(t *testing.T) {
	o := original()
	o.Pattern.Elements[2].State = profile.Damaged
	r, err := Compare(o, exact(t, "copy", 3), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Stations {
		if damaged := strings.HasPrefix(s.What, "bead, crest") && s.X < 80; damaged != (s.Verdict == NotSeen) && s.Side == OneSize && s.X != 64 && s.X != 76 {
			t.Errorf("%s at %.1f mm: %s", s.What, s.X, s.Verdict)
		}
	}
}

func TestSlipsAreNotAccepted(t *testing.T) {
	g := Gauge{X: 10, Diameter: 38}
	for _, d := range []float64{0, -3, 1.5, 380, math.Inf(1), math.NaN()} {
		if g.Accept(d) == nil {
			t.Errorf("%v mm is taken for a reading of 38 mm", d)
		}
	}
	for _, d := range []float64{38, 36.5, 40.1} {
		if err := g.Accept(d); err != nil {
			t.Error(err)
		}
	}
}

func TestAnOriginalIsNotReadings(t *testing.T) {
	if _, err := Compare(exact(t, "copy", 0), original(), Options{}); err == nil {
		t.Error("readings are taken for an original")
	}
}

// TestTheEyeSeesOutlines: no foot of a step, no hollow.
func TestTheEyeSeesOutlines(t *testing.T) {
	r, err := Compare(original(), exact(t, "copy", 0), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Stations {
		switch s.What {
		case "bead, crest", "square, end", "taper, start":
			if !s.Visible {
				t.Errorf("%s at %.1f mm is not seen", s.What, s.X)
			}
		case "cove, bottom", "fillet, start":
			if s.X > 70 && s.X < 77 {
				continue
			}
			if s.Visible {
				t.Errorf("%s at %.1f mm is seen", s.What, s.X)
			}
		}
	}
}
