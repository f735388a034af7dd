package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// bitten is the spindle with its side 1 pushed in by depth px between two stations.
func bitten(t *testing.T, x0, x1, depth float64) (stage, Sighting, Projector) {
	t.Helper()
	s := stageFor(spindle(), 900, 45, 0, r2.Vec{}, 0, 0.02, 0)
	sight := s.sighting(t, 1, 0.03, rand.New(rand.NewPCG(3, 12)))
	p, err := NewProjector(s.scene)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range sight.Outline.Sides[1] {
		if u, _ := p.ToAxis(e.P); p.Station(u) > x0 && p.Station(u) < x1 {
			sight.Outline.Sides[1][i].P = r2.Sub(e.P, r2.Scale(depth, e.N))
		}
	}
	return s, sight, p
}

func (s stage) pixel(p Projector, x, y float64) r2.Vec { return p.ToPixel(p.U(x), y/p.D) }

// worstBetween is the largest error of the diameter between two stations, and whether all samples have the state.
func worstBetween(t *testing.T, s stage, tr profile.Trace, x0, x1 float64, want profile.State) float64 {
	t.Helper()
	worst := 0.0
	for x := x0; x <= x1; x += 0.5 {
		d, _ := s.pattern.DiameterAt(x)
		q, ok := tr.At(x)
		if !ok || q.State != want {
			t.Errorf("at %.1f mm the trace is %q (%v), want %q", x, q.State, ok, want)
			return math.Inf(1)
		}
		worst = math.Max(worst, math.Abs(2*q.R-d))
	}
	return worst
}

func TestCorrectionsMendOneSide(t *testing.T) {
	const x0, x1 = 60.0, 80.0 // on a taper of the spindle
	s, sight, p := bitten(t, x0, x1, 6)
	stroke := []r2.Vec{s.pixel(p, x0-1, 14), s.pixel(p, x1+1, 14)}
	var drawn []EdgePoint
	clean := s.sighting(t, 1, 0.03, rand.New(rand.NewPCG(4, 12)))
	for _, e := range clean.Outline.Sides[1] {
		if u, _ := p.ToAxis(e.P); p.Station(u) > x0-2 && p.Station(u) < x1+2 {
			drawn = append(drawn, e)
		}
	}
	tests := map[string]struct {
		c    Correction
		want profile.State
	}{
		"ignored": {Correction{Kind: Ignore, Path: stroke, Width: 60}, profile.Damaged},
		"trusted": {Correction{Kind: TrustSide, Path: []r2.Vec{s.pixel(p, x1+1, 0), s.pixel(p, x0-1, 0)}, Side: 0}, profile.Damaged},
		"redrawn": {Correction{Kind: Redraw, Path: stroke, Side: 1, Points: drawn}, profile.Visible},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			m, err := Measure(sight, Hints{Height: Height{Mode: Raised}, Corrections: []Correction{test.c}})
			if err != nil {
				t.Fatal(err)
			}
			if worst := worstBetween(t, s, m.Trace, x0+1, x1-1, test.want); worst > 0.12 {
				t.Errorf("diameters there are up to %.3f mm off", worst)
			}
			if worst := worstBetween(t, s, m.Trace, x1+6, x1+16, profile.Visible); worst > 0.12 {
				t.Errorf("diameters beside it are up to %.3f mm off", worst)
			}
		})
	}
}

func TestWhatNeitherSideShowsIsInferred(t *testing.T) {
	s, sight, p := bitten(t, 80, 100, 6)
	var cs []Correction
	for _, y := range []float64{-17, 17} {
		cs = append(cs, Correction{Kind: Ignore, Path: []r2.Vec{s.pixel(p, 80, y), s.pixel(p, 100, y)}, Width: 60})
	}
	m, err := Measure(sight, Hints{Height: Height{Mode: Raised}, Corrections: cs})
	if err != nil {
		t.Fatal(err)
	}
	// A straight line bridges a taper exactly.
	if worst := worstBetween(t, s, m.Trace, 82, 98, profile.Inferred); worst > 0.2 {
		t.Errorf("the bridge is up to %.3f mm off", worst)
	}
}

func TestCorrectedLeavesTheOutlineAlone(t *testing.T) {
	s, sight, p := bitten(t, 60, 80, 6)
	before := append([]EdgePoint(nil), sight.Outline.Sides[1]...)
	sight.Outline.Corrected([]Correction{
		{Kind: Ignore, Path: []r2.Vec{s.pixel(p, 50, 0)}, Width: 1e4}, {Kind: TrustSide, Path: []r2.Vec{{}, {X: 1}}, Side: 7}, {Kind: Redraw}, {Kind: "?"},
	})
	for i, e := range sight.Outline.Sides[1] {
		if e != before[i] {
			t.Fatalf("point %d changed", i)
		}
	}
}
