package join_test

import (
	"math"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/join"
)

// A maple spindle turned round at 12 % moisture and now at 6 % has shrunk by C (M_F - M_I) across the rings and along
// them: coefficients .00165 radial and .00353 tangential per cent, equation 13-2, Wood Handbook (USDA Forest Products
// Laboratory, FPL-GTR-190), chapter 13, table 13-5.
func TestQuarterTurnShowsWhatDryingMadeOval(t *testing.T) {
	const dry = 12.0 - 6.0
	p := baluster()
	scaled := func(c float64) profile.Pattern {
		q := p.Clone()
		for i := range q.Elements {
			e := &q.Elements[i]
			f := 1 - c*dry
			e.D0, e.D1, e.InnerD, e.Sagitta = e.D0*f, e.D1*f, e.InnerD*f, e.Sagitta*f
		}
		return q
	}
	radial, tangential := .00165, .00353
	a, b := shot(t, "a", scaled(radial), 0, p.Length, 0.01, 1), shot(t, "b", scaled(tangential), 0, p.Length, 0.01, 2)
	o, err := join.Turned(a, b, func(float64) bool { return true })
	if err != nil {
		t.Fatal(err)
	}
	want := (tangential - radial) * dry / (1 - (tangential+radial)/2*dry)
	if math.Abs(o.Median-want) > 0.05*want {
		t.Errorf("median ovality %.4f, want %.4f", o.Median, want)
	}
	if o.Largest == nil || o.Largest.Difference > 0 {
		t.Fatalf("the second diameter is the smaller all along, got %+v", o.Largest)
	}
	for _, r := range o.Rows {
		if math.Abs(r.Mean-(r.D[0]+r.D[1])/2) > 1e-12 {
			t.Fatalf("at %.1f mm the mean %.4f is not that of %v", r.X, r.Mean, r.D)
		}
	}
}

func TestRoundPieceIsNotCalledOval(t *testing.T) {
	p := baluster()
	o, err := join.Turned(shot(t, "a", p, 0, p.Length, 0.02, 3), shot(t, "b", p, 0, p.Length, 0.02, 4), func(float64) bool { return true })
	if err != nil {
		t.Fatal(err)
	}
	if o.Out > 0.05 || math.Abs(o.Shift) > 0.1 {
		t.Errorf("%.1f %% of a round piece differs, moved by %.2f mm", 100*o.Out, o.Shift)
	}
}

func TestTurnedLeavesSquaresOut(t *testing.T) {
	p := baluster()
	o, err := join.Turned(shot(t, "a", p, 0, p.Length, 0.02, 3), shot(t, "b", p, 0, p.Length, 0.02, 4), func(x float64) bool { return x > 100 })
	if err != nil {
		t.Fatal(err)
	}
	if o.Rows[0].X <= 100 {
		t.Errorf("a row at %.1f mm lies in the square", o.Rows[0].X)
	}
	if _, err := join.Turned(shot(t, "a", p, 0, p.Length, 0.02, 3), shot(t, "b", p, 0, p.Length, 0.02, 4), func(float64) bool { return false }); err == nil {
		t.Error("a piece without a round part was compared")
	}
}
