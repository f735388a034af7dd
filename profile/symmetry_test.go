package profile

import (
	"math"
	"math/rand/v2"
	"testing"
)

// mirrored is a cylinder of radius 20 mm, a sample every quarter millimetre, with errors of its two sides.
func mirrored(n int, side func(i int) [2]float64) Trace {
	t := Trace{Length: float64(n-1) / 4}
	for i := range n {
		e := side(i)
		a, b := 20+e[0], 20+e[1]
		t.Samples = append(t.Samples, Sample{X: float64(i) / 4, R: (a + b) / 2, State: Visible, Sides: [2]float64{a, b}})
	}
	return t
}

// TestSymmetrySpread: of independent errors of standard deviation s on either side the mean of both has s/sqrt 2, and a mean over
// n stations 1/sqrt n of that.
func TestSymmetrySpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	m := mirrored(4000, func(int) [2]float64 { return [2]float64{0.03 * rng.NormFloat64(), 0.03 * rng.NormFloat64()} }).Symmetry()
	for _, c := range []struct{ length, n float64 }{{0, 1}, {6, 25}, {20, 81}} {
		want := 0.03 / math.Sqrt2 / math.Sqrt(c.n)
		if got := m.Spread(c.length); math.Abs(got/want-1) > 0.25 {
			t.Errorf("over %g mm: %.5f, want %.5f", c.length, got, want)
		}
	}
}

// TestSymmetrySpreadOfSlowErrors: what moves an edge over a long stretch does not average out.
func TestSymmetrySpreadOfSlowErrors(t *testing.T) {
	m := mirrored(4000, func(i int) [2]float64 { return [2]float64{0.05 * math.Sin(float64(i)/4/200*2*math.Pi), 0} }).Symmetry()
	if a, b := m.Spread(0), m.Spread(20); !(b > 0.95*a) {
		t.Errorf("%.4f at a station, %.4f over 20 mm", a, b)
	}
}

// TestSymmetryPassesOver: a chip, a shoulder's face, what was seen of one side alone and nothing at all.
func TestSymmetryPassesOver(t *testing.T) {
	tr := mirrored(1000, func(i int) [2]float64 {
		switch {
		case i > 100 && i < 160:
			return [2]float64{-3, 0.01}
		case i > 500:
			return [2]float64{0, 0}
		}
		return [2]float64{0, 0.01 * float64(1-2*(i%2))}
	})
	m := tr.Symmetry()
	if got := m.Spread(0); math.Abs(got-perMedian*0.005) > 1e-9 {
		t.Errorf("spread %.5f", got)
	}
	if m.Count() > 501 {
		t.Errorf("%d samples count", m.Count())
	}
	if got := (Trace{}).Symmetry().Spread(5); got != 0 {
		t.Errorf("of nothing: %g", got)
	}
}
