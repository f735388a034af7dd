package view

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// maxBridge is the longest gap between neighbouring points of one contour, px, where points are about one pixel apart;
// along the contour of a large or blurred picture, where fewer points tell as much, it is wider by as much as they are.
const maxBridge, wideBridge = 3.5, 1.8

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
	most := math.Max(maxBridge, wideBridge*spacing(pts))
	for _, e := range pts {
		if !usable(e) {
			continue
		}
		if len(run) > 0 && r2.Norm(r2.Sub(e.P, run[len(run)-1].P)) > most {
			flush()
		}
		run = append(run, e)
	}
	flush()
	return runs
}

// spacing is the usual distance between neighbouring measured points, px.
func spacing(pts []EdgePoint) float64 {
	var d []float64
	for i := 1; i < len(pts); i++ {
		if usable(pts[i]) && usable(pts[i-1]) {
			d = append(d, r2.Norm(r2.Sub(pts[i].P, pts[i-1].P)))
		}
	}
	if len(d) == 0 {
		return 0
	}
	return median(d)
}

// smoother holds a run of points and their noise.
type smoother struct {
	pts    []EdgePoint
	weight []float64 // one over the square of each point's standard deviation, px
	noise  float64   // factor from stated to actual standard deviation
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
	s.weigh()
	var ratio []float64
	for i := 0; i+7 <= len(run); i += noiseStep {
		if f, ok := s.fit(i, i+7, i+3); ok {
			ratio = append(ratio, f.chi2)
		}
	}
	if len(ratio) > 0 {
		sort.Float64s(ratio)
		// The median of chi squared with 4 degrees of freedom over 4 is 0.839.
		s.noise = math.Sqrt(ratio[len(ratio)/2] / 0.839)
		s.weigh()
	}
	return s
}

// noiseStep is how many points apart the windows stand that show the noise.
const noiseStep = 3

func (s *smoother) weigh() {
	s.weight = make([]float64, len(s.pts))
	for i := range s.pts {
		sigma := s.sigma(i)
		s.weight[i] = 1 / (sigma * sigma)
	}
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

// chord is the local frame of a window: x runs from -1 to 1 along the chord between its ends, y across it in px.
type chord struct {
	mid, along, across r2.Vec
	half               float64 // px
}

func newChord(a, b r2.Vec) chord {
	d := r2.Sub(b, a)
	c := chord{mid: r2.Scale(0.5, r2.Add(a, b)), half: r2.Norm(d) / 2}
	c.along = r2.Scale(1/(2*c.half), d)
	c.across = r2.Vec{X: -c.along.Y, Y: c.along.X}
	return c
}

func (c chord) to(p r2.Vec) (x, y float64) {
	d := r2.Sub(p, c.mid)
	return r2.Dot(d, c.along) / c.half, r2.Dot(d, c.across)
}

func (c chord) from(x, y float64) r2.Vec {
	return r2.Add(c.mid, r2.Add(r2.Scale(x*c.half, c.along), r2.Scale(y, c.across)))
}

// fit lays a parabola over the points from lo to hi-1, across the chord between them, and reads it at point i.
func (s smoother) fit(lo, hi, i int) (parabola, bool) {
	n := hi - lo
	c := newChord(s.pts[lo].P, s.pts[hi-1].P)
	if n < 4 || !(2*c.half >= float64(n)/4) {
		return parabola{}, false
	}
	m, b, yy := s.moments(c, lo, hi)
	inv, ok := invert3(m)
	if !ok {
		return parabola{}, false
	}
	var q [3]float64
	for j := range q {
		q[j] = inv[j][0]*b[0] + inv[j][1]*b[1] + inv[j][2]*b[2]
	}
	x, _ := c.to(s.pts[i].P)
	f := [3]float64{1, x, x * x}
	variance := 0.0
	for j := range f {
		for k := range f {
			variance += f[j] * f[k] * inv[j][k]
		}
	}
	rest := yy - q[0]*b[0] - q[1]*b[1] - q[2]*b[2]
	return parabola{
		p:     c.from(x, q[0]+q[1]*x+q[2]*x*x),
		sigma: math.Sqrt(max(variance, 0)),
		chi2:  max(rest, 0) / float64(n-3),
	}, true
}

// moments are the weighted sums of x to the powers 0 to 4, of y times x to the powers 0 to 2, and of y².
func (s smoother) moments(c chord, lo, hi int) (m [5]float64, b [3]float64, yy float64) {
	along := r2.Scale(1/c.half, c.along)
	for k := lo; k < hi; k++ {
		p := &s.pts[k].P
		dx, dy := p.X-c.mid.X, p.Y-c.mid.Y
		x, y := dx*along.X+dy*along.Y, dx*c.across.X+dy*c.across.Y
		w := s.weight[k]
		xx := x * x
		m[0] += w
		m[1] += w * x
		m[2] += w * xx
		m[3] += w * xx * x
		m[4] += w * xx * xx
		b[0] += w * y
		b[1] += w * x * y
		b[2] += w * xx * y
		yy += w * y * y
	}
	return m, b, yy
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

// widest is the largest window, points: larger ones would gain less than the scale's own uncertainty.
const widest = 31

// best returns the smoothed point i and its standard deviation.
func (s smoother) best(i int) (r2.Vec, float64) {
	best := parabola{p: s.pts[i].P, sigma: s.sigma(i), chi2: 1}
	for _, n := range [...]int{5, 9, 15, 23, widest} {
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
