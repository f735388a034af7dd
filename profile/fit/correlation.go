package fit

import (
	"math"
	"sort"

	"spindlestick/profile"
)

const (
	// slowSpan is the length over which the two sides' difference is levelled before its noise is taken, mm: what
	// changes more slowly (an axis a little off, oval wood) bends no element, however long.
	slowSpan = 20
	// leastSides is how many samples must show both sides before their difference says anything.
	leastSides = 200
	// leastCorrelation ends the sum over lags: below it the estimate is noise itself. The sum comes out short by what
	// lies beyond, a tenth to a quarter for the correlations of real edges.
	leastCorrelation = 0.1
	// outlier is the difference, in standard deviations, beyond which a chip is at work and no noise.
	outlier = 3
	// perMAD turns a median absolute deviation into a standard deviation (of a normal distribution).
	perMAD = 1.4826
)

// correlated returns the standard deviation with which independent samples would say as much as these, mm. The errors
// of neighbouring samples are alike: grain and shading move an edge for several samples together. Half the difference
// of the two sides has the variance of their mean and shows how far alike they are; a mean over n samples with integrated
// autocorrelation tau has tau times the variance of n independent ones (Sokal, Monte Carlo methods in statistical
// mechanics, 1989; from memory). 0 where the sides say nothing.
func correlated(t profile.Trace) float64 {
	h, spacing := halfDifference(t)
	if len(h) < leastSides || !(spacing > 0) {
		return 0
	}
	h = levelled(h, int(slowSpan/spacing)/2)
	sd := clip(h)
	return sd * math.Sqrt(autocorrelation(h))
}

// halfDifference returns half the difference of the sides' radii where both are visible, mm, and the mean spacing of
// samples, mm.
func halfDifference(t profile.Trace) (h []float64, spacing float64) {
	for _, s := range t.Samples {
		if s.State == profile.Visible && finite(s.Sides[0]) && finite(s.Sides[1]) {
			h = append(h, (s.Sides[0]-s.Sides[1])/2)
		}
	}
	return h, t.Length / float64(max(1, len(t.Samples)))
}

// levelled takes the mean over half values on either side away from each.
func levelled(h []float64, half int) []float64 {
	sum := make([]float64, len(h)+1)
	for i, v := range h {
		sum[i+1] = sum[i] + v
	}
	out := make([]float64, len(h))
	for i, v := range h {
		a, b := max(0, i-half), min(len(h), i+half+1)
		out[i] = v - (sum[b]-sum[a])/float64(b-a)
	}
	return out
}

// clip takes outliers out in place and returns the standard deviation of the rest.
func clip(h []float64) float64 {
	abs := make([]float64, len(h))
	for i, v := range h {
		abs[i] = math.Abs(v)
	}
	sort.Float64s(abs)
	sd := perMAD * abs[len(abs)/2]
	for i, v := range h {
		if math.Abs(v) > outlier*sd {
			h[i] = 0
		}
	}
	return sd
}

// autocorrelation returns the integrated autocorrelation, 1 + 2 sum rho(k): 1 for independent values.
func autocorrelation(h []float64) float64 {
	cov := func(lag int) float64 {
		sum := 0.0
		for i := lag; i < len(h); i++ {
			sum += h[i] * h[i-lag]
		}
		return sum / float64(len(h)-lag)
	}
	tau, c0 := 1.0, cov(0)
	for k := 1; k < len(h)/4 && c0 > 0; k++ {
		rho := cov(k) / c0
		if rho < leastCorrelation {
			break
		}
		tau += 2 * rho
	}
	return tau
}
