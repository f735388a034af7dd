package profile

import (
	"math"
	"testing"
)

// A cylinder and a quarter round of radius 12.7 mm: exercise A-I-6-a of Milton and Wohlers, A Course in Wood
// Turning (1919), first two cuts: 1/2 inch level at 1 1/2 inch, then a quarter circle of 1/2 inch.
func quarterRound() Pattern {
	const in = MMPerInch
	half := Segment{0, 0.75 * in, 0.5 * in, 0.25 * in, 0}.Chord() / 2
	return Pattern{Length: in, Elements: []Element{
		{Kind: Cylinder, X0: 0, X1: in / 2, D0: 1.5 * in, D1: 1.5 * in, U: Bounds{D0: 0.1, D1: 0.1}},
		{Kind: HalfBead, X0: in / 2, X1: in, D0: 1.5 * in, D1: 0.5 * in, Sagitta: half * math.Tan(math.Pi/8),
			U: Bounds{D0: 0.1, D1: 0.3}, State: Inferred},
	}}
}

func TestCurve(t *testing.T) {
	p := quarterRound()
	s := p.Curve(0.25)
	if got, want := len(s), 103; got != want {
		t.Fatalf("%d samples, want %d: 25.4 mm every 0.25 and the end", got, want)
	}
	if last := s[len(s)-1]; last.X != p.Length || math.Abs(last.R-0.25*MMPerInch) > 1e-9 {
		t.Errorf("the last sample is %+v, want x 25.4 and radius 6.35", last)
	}
	for _, q := range s {
		want := 0.75 * MMPerInch
		if d := q.X - MMPerInch/2; d > 0 {
			want = 0.25*MMPerInch + math.Sqrt(math.Max(0, 12.7*12.7-d*d))
		}
		if math.Abs(q.R-want) > 1e-6 {
			t.Errorf("radius at %.2f is %.4f, want %.4f", q.X, q.R, want)
		}
	}
	if s[10].State != Visible || s[90].State != Inferred {
		t.Errorf("states %s and %s, want visible and inferred", s[10].State, s[90].State)
	}
}

func TestCurveUncertainty(t *testing.T) {
	s := quarterRound().Curve(0.25)
	if u := s[20].U; math.Abs(u-0.1) > 1e-12 {
		t.Errorf("uncertainty in the cylinder %.3f, want 0.1", u)
	}
	if a, b := s[60].U, s[100].U; !(a > 0.1 && a < b && b < 0.3) {
		t.Errorf("uncertainties %.3f and %.3f in the half bead, want rising from 0.1 to 0.3", a, b)
	}
}

// TestCurveUncertaintyOfStation: a taper of 1 in 10 and a length known to 1 %: at x the station is known to 0.01 x and the
// diameter to a tenth of it, besides the taper's own; a cylinder does not mind.
func TestCurveUncertaintyOfStation(t *testing.T) {
	p := Pattern{Length: 200, ULength: 2, Elements: []Element{
		{Kind: Cylinder, X0: 0, X1: 100, D0: 40, D1: 40, U: Bounds{D0: 0.05, D1: 0.05}},
		{Kind: Taper, X0: 100, X1: 200, D0: 40, D1: 30, U: Bounds{D0: 0.05, D1: 0.05}},
	}}
	s := p.Curve(10)
	if u := s[5].U; math.Abs(u-0.05) > 1e-12 {
		t.Errorf("in the cylinder %.4f, want 0.05", u)
	}
	if u, want := s[15].U, math.Hypot(0.05, 0.15); math.Abs(u-want) > 1e-12 {
		t.Errorf("in the taper %.4f, want %.4f", u, want)
	}
}

func TestCurveRefusesBadSteps(t *testing.T) {
	for _, step := range []float64{0, -1, math.NaN()} {
		if s := quarterRound().Curve(step); s != nil {
			t.Errorf("step %v gave %d samples", step, len(s))
		}
	}
}
