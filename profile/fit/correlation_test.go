package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
)

// sided is a cylinder whose two sides carry errors of the first order autoregression e = phi e' + w, w of deviation sd.
func sided(n int, phi, sd float64) profile.Trace {
	r := rand.New(rand.NewPCG(7, 11))
	t := profile.Trace{Length: float64(n) / 4}
	var e [2]float64
	for i := range n {
		for k := range e {
			e[k] = phi*e[k] + sd*r.NormFloat64()
		}
		t.Samples = append(t.Samples, profile.Sample{
			X: float64(i) / 4, R: 10 + (e[0]+e[1])/2, State: profile.Visible, Sides: [2]float64{10 + e[0], 10 + e[1]},
		})
	}
	return t
}

// A first order autoregression has variance sd²/(1-phi²) and integrated autocorrelation (1+phi)/(1-phi) (Box and Jenkins,
// Time Series Analysis; from memory), so the mean of its two sides weighs as independent samples of sd / (1-phi) / sqrt 2.
func TestCorrelatedNoiseWeighsLess(t *testing.T) {
	for _, phi := range []float64{0, 0.5, 0.8} {
		got := correlated(sided(8000, phi, 0.01))
		want := 0.01 / (1 - phi) / math.Sqrt2
		if got < 0.72*want || got > 1.05*want {
			t.Errorf("phi %v: %.5f mm, want %.5f, or up to a quarter less where the sum over lags ends", phi, got, want)
		}
	}
}

func TestASlowDifferenceIsNoNoise(t *testing.T) {
	tr := sided(4000, 0, 0.01)
	plain := correlated(tr)
	for i := range tr.Samples {
		tr.Samples[i].Sides[0] += 0.3 * math.Sin(float64(i)/4000*2*math.Pi)
	}
	if got := correlated(tr); math.Abs(got/plain-1) > 0.1 {
		t.Errorf("a leaning axis makes %.5f mm of %.5f mm", got, plain)
	}
}

func TestAChipIsNoNoise(t *testing.T) {
	tr := sided(4000, 0, 0.01)
	plain := correlated(tr)
	for i := 1000; i < 1040; i++ {
		tr.Samples[i].Sides[1] -= 2
	}
	if got := correlated(tr); got > 1.3*plain {
		t.Errorf("a chip makes %.5f mm of %.5f mm", got, plain)
	}
}

func TestSidesThatSayNothing(t *testing.T) {
	tr := sided(4000, 0, 0.01)
	for i := range tr.Samples {
		tr.Samples[i].Sides = [2]float64{tr.Samples[i].R, tr.Samples[i].R}
	}
	if got := correlated(tr); got != 0 {
		t.Errorf("equal sides make %v mm", got)
	}
}
