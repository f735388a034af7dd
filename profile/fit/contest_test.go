package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// photographed is a turned pattern seen from a metre away, the middle of the picture at station foot, with an error (px,
// by station and side) along the edges. The trace is the hull of the outline's rays.
func photographed(t *testing.T, p profile.Pattern, foot float64, slip func(x float64, side int) float64) view.Measurement {
	t.Helper()
	const distance, focal = 1000.0, 5000.0
	m := view.Measurement{Scene: view.Scene{
		Camera: view.Camera{F: focal, Cx: 2500, Cy: 500, Width: 5000, Height: 1000},
		Axis:   view.Line{P: r3.Vec{X: -foot, Z: distance}, E: r3.Vec{X: 1}},
	}}
	pr, err := view.NewProjector(m.Scene)
	if err != nil {
		t.Fatal(err)
	}
	look := pr.Look(p)
	var us, vs []float64
	lo, hi := look.Reach()
	for u := lo; u < hi; u += 1 / focal {
		v, ok := look.Width(u, 1)
		if !ok {
			continue
		}
		us, vs = append(us, u), append(vs, v)
		w, _ := look.Width(u+0.5/focal, 1)
		slope := (w - v) * 2 * focal
		for side := range 2 {
			hand := float64(2*side - 1)
			n := r2.Unit(r2.Vec{X: -slope, Y: hand})
			px := r2.Add(pr.ToPixel(u, hand*v), r2.Scale(slip(pr.Station(u), side), n))
			m.Outline.Sides[side] = append(m.Outline.Sides[side], view.EdgePoint{P: px, N: n, Sigma: 0.05, State: profile.Visible})
		}
	}
	m.Trace = hulled(p, foot, distance, us, vs)
	return m
}

// hulled is the trace that rays (u, v) leave: at each station the least distance of any ray from the axis.
func hulled(p profile.Pattern, foot, distance float64, us, vs []float64) profile.Trace {
	t := profile.Trace{Length: p.Length}
	for x := 0.0; x <= p.Length; x += 0.25 {
		least := math.Inf(1)
		for i, u := range us {
			if d := (x - foot) / u; math.Abs(d-distance) < 60 {
				least = math.Min(least, math.Hypot(vs[i]*d, d-distance))
			}
		}
		if math.IsInf(least, 1) {
			continue
		}
		s := profile.Sample{X: x, R: least, Sides: [2]float64{least, least}, U: 0.05, State: profile.Visible}
		if d, ok := p.DiameterAt(x); ok && least > d/2+0.1 {
			s.State = profile.Hidden
		}
		t.Samples = append(t.Samples, s)
	}
	return t
}

// grainy is white noise of a twentieth of a pixel.
func grainy(seed uint64) func(float64, int) float64 {
	rng := rand.New(rand.NewPCG(seed, 7))
	return func(float64, int) float64 { return 0.05 * rng.NormFloat64() }
}

// laid puts elements end to end.
func laid(es ...profile.Element) profile.Pattern {
	x := 0.0
	for i := range es {
		l := es[i].X1
		es[i].X0, es[i].X1 = x, x+l
		if es[i].Kind == profile.Vee {
			es[i].InnerX = x + l/2
		}
		x += l
	}
	return profile.Pattern{Length: x, Elements: es}
}

func sameKinds(t *testing.T, got, want profile.Pattern) {
	t.Helper()
	if len(got.Elements) != len(want.Elements) {
		t.Fatalf("%v, want %v", kinds(got), kinds(want))
	}
	for i, e := range want.Elements {
		if got.Elements[i].Kind != e.Kind {
			t.Errorf("element %d is a %s, want a %s", i+1, got.Elements[i].Kind, e.Kind)
		}
	}
}

// A vee of 90 degrees far off the middle shows the tops of its walls only; it is no fillet, and it is as deep as its
// walls say.
func TestAVeeWhoseBottomIsHidden(t *testing.T) {
	want := laid(
		profile.Element{Kind: profile.Taper, X1: 90, D0: 28, D1: 36},
		profile.Element{Kind: profile.Vee, X1: 4, D0: 36, D1: 36, InnerD: 32},
		profile.Element{Kind: profile.Cylinder, X1: 20, D0: 36, D1: 36})
	got, err := Fit(photographed(t, want, 320, grainy(1)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameKinds(t, got, want)
	within(t, "bottom", got.Elements[1].InnerD, 32, 1)
	within(t, "rim", got.Elements[1].X0, 90, 0.2)
}

// Slow errors of a tenth of a pixel, alike on both sides, do not cut a taper in pieces.
func TestSlowErrorsCutNoTaper(t *testing.T) {
	want := laid(
		profile.Element{Kind: profile.Cylinder, X1: 25, D0: 16, D1: 16},
		profile.Element{Kind: profile.Taper, X1: 200, D0: 18, D1: 30},
		profile.Element{Kind: profile.Cylinder, X1: 25, D0: 26, D1: 26})
	white := grainy(2)
	slow := func(x float64, side int) float64 { return 0.1*math.Sin(x/12) + white(x, side) }
	got, err := Fit(photographed(t, want, 125, slow), Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameKinds(t, got, want)
}

// A fillet of which a bead hides most has the size of its twin on the bead's other side, and nothing of the pattern
// stands out of what the rays leave.
func TestNothingStandsOutOfTheHull(t *testing.T) {
	want := laid(
		profile.Element{Kind: profile.Cylinder, X1: 40, D0: 30, D1: 30},
		profile.Element{Kind: profile.Fillet, X1: 3, D0: 33, D1: 33},
		profile.Element{Kind: profile.Bead, X1: 11, D0: 33, D1: 33, Sagitta: 5},
		profile.Element{Kind: profile.Fillet, X1: 3, D0: 33, D1: 33},
		profile.Element{Kind: profile.Cylinder, X1: 40, D0: 38, D1: 38})
	m := photographed(t, want, 300, grainy(3))
	got, err := Fit(m, Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameKinds(t, got, want)
	for _, s := range m.Trace.Samples {
		if d, ok := got.DiameterAt(s.X); ok && d/2 > s.R+0.4 && math.Abs(s.X-40) > 0.5 {
			t.Errorf("at %.2f mm the pattern reaches %.2f mm from the axis, the rays leave %.2f", s.X, d/2, s.R)
		}
	}
	for i, e := range got.Elements {
		for _, u := range []float64{e.U.X0, e.U.X1, e.U.D0, e.U.D1, e.U.Mid} {
			if !(u >= 0 && u < 5) {
				t.Errorf("element %d has an uncertainty of %v mm", i+1, u)
			}
		}
	}
}

// An axis half a pixel off moves both sides one way, and no diameter.
func TestAnAxisOffMovesNoDiameter(t *testing.T) {
	want := laid(
		profile.Element{Kind: profile.Cylinder, X1: 60, D0: 30, D1: 30},
		profile.Element{Kind: profile.Taper, X1: 120, D0: 30, D1: 20})
	off := func(x float64, side int) float64 { return 0.5 * float64(2*side-1) }
	got, err := Fit(photographed(t, want, 90, off), Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameKinds(t, got, want)
	within(t, "diameter", got.Elements[0].D0, 30, 0.02)
	within(t, "diameter", got.Elements[1].D1, 20, 0.03)
}

// Errors that neighbours share count once for each stretch of grain: ten times the points tell hardly more.
func TestEvidenceCountsSharedErrorsOnce(t *testing.T) {
	sum := func(n int, shared float64) float64 {
		p := &picture{grain: leastGrain}
		for i := range n {
			p.points = append(p.points, seen{station: 20 * float64(i) / float64(n), root: 1 / leastPixels})
		}
		r := make([]float64, n)
		for i := range r {
			r[i] = shared / leastPixels
		}
		return (&exposure{picture: p}).evidence(r)
	}
	few, many := sum(20, 0.06), sum(200, 0.06)
	if many > 2*few || many > 5 {
		t.Errorf("%.2f from 200 points, %.2f from 20", many, few)
	}
	if v := sum(20, 1); v < 10*gross {
		t.Errorf("an error of a pixel counts %.1f only", v)
	}
}
