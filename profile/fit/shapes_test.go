package fit

import (
	"math"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// Vees of a millimetre and a half give the trace's samples, a quarter of a millimetre apart, too little to be cut out; the
// picture shows them.
func TestVeesTooNarrowForTheTrace(t *testing.T) {
	run := func(l float64) profile.Element { return profile.Element{Kind: profile.Cylinder, X1: l, D0: 30, D1: 30} }
	vee := func() profile.Element {
		return profile.Element{Kind: profile.Vee, X1: 1.5, D0: 30, D1: 30, InnerD: 28.5}
	}
	want := laid(run(40), vee(), run(9), vee(), run(40))
	got, err := Fit(photographed(t, want, 180, grainy(4)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameKinds(t, got, want)
	for i, e := range want.Elements {
		within(t, "station", got.Elements[i].X1, e.X1, 0.3)
	}
}

// post is a square with a quarter shoulder that stands over a fillet and a bead: the square's edges hide the
// shoulder but for its end, and that hides the fillet.
func post() profile.Pattern {
	const side, low, rad = 44.0, 38.0, 17.0
	corner := side * math.Sqrt2
	drop := (corner - low) / 2
	length := math.Sqrt(2*rad*drop - drop*drop)
	c := math.Hypot(length, drop)
	p := laid(
		profile.Element{Kind: profile.Square, X1: 110, D0: side, D1: side, Side: side},
		profile.Element{Kind: profile.Shoulder, Style: profile.Quarter, X1: length, D0: corner, D1: low, Side: side,
			Sagitta: rad - math.Sqrt(rad*rad-c*c/4)},
		profile.Element{Kind: profile.Fillet, X1: 3.6, D0: 33, D1: 33},
		profile.Element{Kind: profile.Bead, X1: 11, D0: 33, D1: 33, Sagitta: 4.7},
		profile.Element{Kind: profile.Fillet, X1: 3.2, D0: 33, D1: 33},
		profile.Element{Kind: profile.Taper, X1: 80, D0: 38, D1: 30})
	return p
}

// squared is the photograph of a post with the square as the outline shows it.
func squared(t *testing.T, p profile.Pattern, foot float64, slip func(float64, int) float64) view.Measurement {
	t.Helper()
	m := photographed(t, p, foot, slip)
	end := p.Elements[1].X0 + 0.9*p.Elements[1].Length()
	for i := range m.Trace.Samples {
		if s := &m.Trace.Samples[i]; s.X <= end {
			s.R, s.State, s.Sides = 22, profile.Visible, [2]float64{22, 22}
		}
	}
	m.Squares = []view.SquareStretch{{X0: 0, X1: end, Side: 44}}
	return m
}

func TestAShoulderOverAHiddenFillet(t *testing.T) {
	want := post()
	got, err := Fit(squared(t, want, 330, grainy(5)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameKinds(t, got, want)
	for i, e := range want.Elements {
		within(t, "station", got.Elements[i].X1, e.X1, 1)
	}
	if got.Elements[1].Style != profile.Quarter {
		t.Errorf("the shoulder is %s, want a quarter", got.Elements[1].Style)
	}
}

// How a square lies shows in its near edges: both moved one way by 0.4 px, at 5 px a mm and half a side of 22 mm, are a turn of
// 0.0036.
func TestASquareTurnsUntilItsEdgesAgree(t *testing.T) {
	aside := func(x float64, side int) float64 {
		if x > 105 {
			return 0
		}
		return 0.4 * float64(2*side-1)
	}
	got, err := Fit(squared(t, post(), 330, aside), Options{})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "turn", math.Abs(got.Elements[0].Roll), 0.0036, 0.001)
}

// An ogee that is level where it starts and ends meets a taper at a corner of two degrees. Arcs free to run on would meet it
// millimetres further on, without a corner, and fit hardly worse.
func TestAnOgeeFromLevelToLevel(t *testing.T) {
	first := profile.Segment{X0: 0, R0: 14, X1: 22, R1: 17.3}
	want := laid(
		profile.Element{Kind: profile.Cylinder, X1: 30, D0: 33, D1: 33},
		profile.Element{Kind: profile.Ogee, X1: 46, D0: 28, D1: 41.8, Sagitta: levelSagitta(first, false), InnerX: 30 + 22, InnerD: 34.6},
		profile.Element{Kind: profile.Taper, X1: 100, D0: 41.8, D1: 34.2})
	got, err := Fit(photographed(t, want, 90, grainy(6)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameKinds(t, got, want)
	within(t, "end", got.Elements[1].X1, want.Elements[1].X1, 0.4)
}

// The joint inside an ogee from level to level lies on the line between its ends, and the arcs end level there.
func TestSweepsEndLevel(t *testing.T) {
	c := chain{
		joints: []joint{{x: 0, before: 10, after: 10}, {x: 12, before: 3, after: 3}, {x: 30, before: 22, after: 22}},
		links:  []link{{form: crestAt0}, {form: sweeps}},
	}
	c.settle()
	within(t, "inflection", c.joints[1].before, 10+12*12./30, 1e-9)
	within(t, "slope at the start", startAngle(c.segment(0)), 0, 1e-9)
	within(t, "corner", endAngle(c.segment(0))-startAngle(c.segment(1)), 0, 1e-9)
	within(t, "slope at the end", endAngle(c.segment(1)), 0, 1e-9)
}
