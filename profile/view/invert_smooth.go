package view

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// maxBridge is the longest gap between neighbouring points of one contour, px: points are about one pixel apart.
const maxBridge = 3.5

// smoothed is one side of an outline after smoothing, in pixels.
type smoothed struct {
	at    []r2.Vec
	sigma []float64 // standard deviation of each along its normal after smoothing, px
	gap   []bool    // gap[i]: nothing was seen between point i-1 and point i
}

// smooth replaces each point by the local parabola that determines it best among windows before, around and
// after it: the largest that the points agree with within their noise. No window reaches over a corner, because
// there the points do not agree with a parabola.
func smooth(pts []EdgePoint) smoothed {
	var out smoothed
	kept := measured(pts)
	for _, run := range kept {
		s := newSmoother(run)
		for i := range run {
			p, sigma := s.best(i)
			out.at = append(out.at, p)
			out.sigma = append(out.sigma, sigma)
			out.gap = append(out.gap, i == 0)
		}
	}
	return out
}

// measured splits a side into runs of measured points without gaps.
func measured(pts []EdgePoint) [][]EdgePoint {
	var runs [][]EdgePoint
	var run []EdgePoint
	flush := func() {
		if len(run) >= shortestRun {
			runs = append(runs, run)
		}
		run = nil
	}
	for _, e := range pts {
		if !usable(e) {
			continue
		}
		if len(run) > 0 && r2.Norm(r2.Sub(e.P, run[len(run)-1].P)) > maxBridge {
			flush()
		}
		run = append(run, e)
	}
	flush()
	return runs
}

// smoother holds a run of points and their noise.
type smoother struct {
	pts   []EdgePoint
	noise float64 // factor from stated to actual standard deviation
}

// defaultSigma stands in for points that do not state their standard deviation, px.
const defaultSigma = 0.05

// worstSigma is a standard deviation beyond which a point says nothing, px.
const worstSigma = 100

// shortestRun is the fewest points in a row that are a contour and not specks.
const shortestRun = 5

// leastSigma keeps exact outlines computable, px.
const leastSigma = 1e-4

func newSmoother(run []EdgePoint) smoother {
	s := smoother{pts: run, noise: 1}
	var ratio []float64
	for i := 0; i+7 <= len(run); i++ {
		if f, ok := s.fit(i, i+7, i+3); ok {
			ratio = append(ratio, f.chi2)
		}
	}
	if len(ratio) > 0 {
		sort.Float64s(ratio)
		// The median of chi squared with 4 degrees of freedom over 4 is 0.839.
		s.noise = math.Sqrt(ratio[len(ratio)/2] / 0.839)
	}
	return s
}

func (s smoother) sigma(i int) float64 {
	v := s.pts[i].Sigma
	if !(v > 0 && v < worstSigma) {
		v = defaultSigma
	}
	return math.Max(v*s.noise, leastSigma)
}

// parabola is a local fit: the point it gives, its standard deviation and the mean square residual over what the
// noise leads to expect.
type parabola struct {
	p     r2.Vec
	sigma float64
	chi2  float64
}

// fit lays a parabola over the points from lo to hi-1, across the chord between them, and reads it at point i.
func (s smoother) fit(lo, hi, i int) (parabola, bool) {
	a, b := s.pts[lo].P, s.pts[hi-1].P
	n := hi - lo
	along := r2.Sub(b, a)
	length := r2.Norm(along)
	if n < 4 || length < float64(n)/4 {
		return parabola{}, false
	}
	along = r2.Scale(1/length, along)
	across := r2.Vec{X: -along.Y, Y: along.X}
	mid := r2.Scale(0.5, r2.Add(a, b))
	half := length / 2
	var m [5]float64
	var c [3]float64
	var syy float64
	for k := lo; k < hi; k++ {
		d := r2.Sub(s.pts[k].P, mid)
		x, y := r2.Dot(d, along)/half, r2.Dot(d, across)
		w := 1 / (s.sigma(k) * s.sigma(k))
		xx := x * x
		m[0] += w
		m[1] += w * x
		m[2] += w * xx
		m[3] += w * xx * x
		m[4] += w * xx * xx
		c[0] += w * y
		c[1] += w * x * y
		c[2] += w * xx * y
		syy += w * y * y
	}
	inv, ok := invert3(m)
	if !ok {
		return parabola{}, false
	}
	var q [3]float64
	for j := range q {
		q[j] = inv[j][0]*c[0] + inv[j][1]*c[1] + inv[j][2]*c[2]
	}
	x := r2.Dot(r2.Sub(s.pts[i].P, mid), along) / half
	f := [3]float64{1, x, x * x}
	var y, v float64
	for j := range f {
		y += f[j] * q[j]
		for k := range f {
			v += f[j] * f[k] * inv[j][k]
		}
	}
	rest := syy - q[0]*c[0] - q[1]*c[1] - q[2]*c[2]
	return parabola{
		p:     r2.Add(mid, r2.Add(r2.Scale(x*half, along), r2.Scale(y, across))),
		sigma: math.Sqrt(math.Max(v, 0)),
		chi2:  math.Max(rest, 0) / float64(n-3),
	}, true
}

// invert3 inverts the symmetric matrix of moments m[i+j].
func invert3(m [5]float64) (inv [3][3]float64, ok bool) {
	c00, c01, c02 := m[2]*m[4]-m[3]*m[3], m[2]*m[3]-m[1]*m[4], m[1]*m[3]-m[2]*m[2]
	det := m[0]*c00 + m[1]*c01 + m[2]*c02
	if !(math.Abs(det) > 1e-12*m[0]*m[2]*m[4]) {
		return inv, false
	}
	c11, c12, c22 := m[0]*m[4]-m[2]*m[2], m[1]*m[2]-m[0]*m[3], m[0]*m[2]-m[1]*m[1]
	return [3][3]float64{
		{c00 / det, c01 / det, c02 / det},
		{c01 / det, c11 / det, c12 / det},
		{c02 / det, c12 / det, c22 / det},
	}, true
}

// best returns the smoothed point i.
func (s smoother) best(i int) (r2.Vec, float64) {
	best := parabola{p: s.pts[i].P, sigma: s.sigma(i), chi2: 1}
	for _, n := range [...]int{5, 9, 15, 23, 31} {
		limit := 1 + 2.5*math.Sqrt(2/float64(n-3)) // chi squared's mean and 2.5 of its standard deviations
		found := false
		for _, before := range [...]int{n / 2, n / 4, n - 1 - n/4, 0, n - 1} {
			lo := i - before
			if lo < 0 || lo+n > len(s.pts) {
				continue
			}
			f, ok := s.fit(lo, lo+n, i)
			if !ok || f.chi2 > limit {
				continue
			}
			found = true
			if f.sigma < best.sigma {
				best = f
			}
		}
		if !found {
			break
		}
	}
	return best.p, best.sigma
}
