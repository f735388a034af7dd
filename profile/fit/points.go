package fit

import (
	"math"
	"sort"

	"spindlestick/profile"
)

// point is one sample that carries data.
type point struct {
	x, r   float64 // mm
	weight float64 // relative to a plain visible sample
	gap    bool    // nothing was measured between this point and the one before
	// Where there is a gap: the least radius that hidden samples in it read, and its station. Hidden samples read
	// too much, never too little, so the surface lies no higher.
	low  float64
	lowX float64
}

// Weights of samples that count less than plain ones.
const (
	// damagedWeight lets a damaged stretch guide the fit only where nothing else does: a chip is a hundred times
	// deeper than the noise, and must not outvote its neighbours even so.
	damagedWeight = 1e-4
)

// points returns the samples of a trace that carry data, ordered along the meridian. Hidden stretches leave a gap.
func points(t profile.Trace) []point {
	var out []point
	gap, low, lowX := false, math.Inf(1), 0.0
	shown := besideSquares(t.Samples)
	for i, s := range t.Samples {
		if !finite(s.X) || !finite(s.R) {
			continue
		}
		if (s.State == profile.Hidden || s.State == profile.Inferred) && !shown[i] {
			gap = true
			if s.R < low {
				low, lowX = s.R, s.X
			}
			continue
		}
		p := point{x: s.X, r: s.R, weight: 1, gap: gap, low: low, lowX: lowX}
		if s.State == profile.Damaged {
			p.weight = damagedWeight
		}
		out = append(out, p)
		gap, low = false, math.Inf(1)
	}
	// Outline points of a steep face may come a little out of order.
	sort.SliceStable(out, func(i, j int) bool { return out[i].x < out[j].x })
	return out
}

const (
	// squareRun is how many samples of one and the same radius show that the trace knows a square: it then states
	// half the side, not readings.
	squareRun = 40
	// shoulderEdge is how far from a square's stretch hidden samples are read all the same, mm: what is called
	// hidden there is the shoulder's own steep outline before it turns out of sight.
	shoulderEdge = 1.3
)

// besideSquares marks the samples just beyond the stretches that the trace knows to be square.
func besideSquares(s []profile.Sample) []bool {
	out := make([]bool, len(s))
	for i := 0; i < len(s); {
		j := i + 1
		for j < len(s) && s[j].R == s[i].R {
			j++
		}
		if j-i >= squareRun {
			for k := j; k < len(s) && s[k].X-s[j-1].X <= shoulderEdge; k++ {
				out[k] = true
			}
			for k := i - 1; k >= 0 && s[i].X-s[k].X <= shoulderEdge; k-- {
				out[k] = true
			}
		}
		i = j
	}
	return out
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Windows of the noise estimate.
const (
	noiseWindow = 9
	// windowMedian is the median of sqrt(chi²/f) for the f = 6 degrees of freedom that a quadratic leaves of
	// noiseWindow points (chi² median by Wilson and Hilferty: f (1 - 2/9f)³ = 5.35).
	windowMedian = 0.944
)

// noise returns the standard deviation of the points about the meridian, mm, from the residuals of local
// quadratics: the median passes over windows that hold a corner or a step. It is never under floor.
func noise(pts []point, floor float64) float64 {
	var rms []float64
	for i := 0; i+noiseWindow <= len(pts); i += noiseWindow / 3 {
		w := pts[i : i+noiseWindow]
		if v, ok := quadraticResidual(w); ok {
			rms = append(rms, v)
		}
	}
	if len(rms) == 0 {
		return floor
	}
	sort.Float64s(rms)
	return math.Max(floor, rms[len(rms)/2]/windowMedian)
}

// quadraticResidual returns the standard deviation of the points about the parabola through them over their
// own chord direction, and false for a window that holds a gap.
func quadraticResidual(w []point) (float64, bool) {
	for _, p := range w[1:] {
		if p.gap {
			return 0, false
		}
	}
	n := len(w)
	dx, dr := w[n-1].x-w[0].x, w[n-1].r-w[0].r
	c := math.Hypot(dx, dr)
	if c == 0 {
		return 0, false
	}
	// Sums for the normal equations of v = a + b u + c u², u held to [-1, 1] for conditioning.
	var s [5]float64
	var t [3]float64
	for _, p := range w {
		u, v := local(w[0], dx/c, dr/c, c, p)
		m := 1.0
		for k := range s {
			s[k] += m
			if k < 3 {
				t[k] += m * v
			}
			m *= u
		}
	}
	q, ok := solve3([3][3]float64{{s[0], s[1], s[2]}, {s[1], s[2], s[3]}, {s[2], s[3], s[4]}}, t)
	if !ok {
		return 0, false
	}
	sum := 0.0
	for _, p := range w {
		u, v := local(w[0], dx/c, dr/c, c, p)
		e := v - q[0] - u*(q[1]+u*q[2])
		sum += e * e
	}
	return math.Sqrt(sum / float64(n-3)), true
}

// local returns p along and across a chord from a of length c and direction (ex, er); along runs from -1 to 1.
func local(a point, ex, er, c float64, p point) (u, v float64) {
	x, r := p.x-a.x, p.r-a.r
	return 2*(x*ex+r*er)/c - 1, r*ex - x*er
}

// solve3 solves a 3 x 3 system by Cramer's rule.
func solve3(a [3][3]float64, b [3]float64) (q [3]float64, ok bool) {
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	d := det(a)
	if math.Abs(d) < 1e-12 {
		return q, false
	}
	for k := range q {
		m := a
		for i := range m {
			m[i][k] = b[i]
		}
		q[k] = det(m) / d
	}
	return q, true
}
