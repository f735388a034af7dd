package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// How far (px) about a contour point its pixels are gathered, at a blur of one pixel or less; blurred
// pictures take more.
const (
	alongReach  = 2.5 // along the contour: five neighbours
	acrossReach = 4.2 // across it on the outside
	inReach     = 3.2 // across it on the inside, where grain and shading disturb
	mixAlong    = 6.0 // for the channel mix
	mixAcross   = 6.5
	mixGap      = 2.0 // about the edge, where both colours mix
)

// nearPixel is a pixel near a contour point: along and across (outward) it, curvature taken off.
type nearPixel struct {
	along, across float64
	c             rgb
	luma          float64 // JPEG luma of the tones, 0..255
}

// edgeReader reads the pixels about contour points. It keeps its buffers, so one serves one goroutine.
type edgeReader struct {
	r       *raster
	scale   float64 // of the reaches, for blurred pictures; at least 1
	near    []nearPixel
	samples []edgeSample
}

// read gathers the pixels about c whose place along the contour is within the mix reach.
func (e *edgeReader) read(c contourPoint) {
	e.near = e.near[:0]
	along, across := mixAlong*e.scale, mixAcross*e.scale
	ex := math.Abs(c.t.X)*along + math.Abs(c.n.X)*across
	ey := math.Abs(c.t.Y)*along + math.Abs(c.n.Y)*across
	x0, x1 := max(0, int(math.Ceil(c.p.X-ex))), min(e.r.w-1, int(c.p.X+ex))
	y0, y1 := max(0, int(math.Ceil(c.p.Y-ey))), min(e.r.h-1, int(c.p.Y+ey))
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			d := r2.Sub(r2.Vec{X: float64(x), Y: float64(y)}, c.p)
			a, b := r2.Dot(d, c.t), r2.Dot(d, c.n)
			b += c.bend * a * a / 2
			if math.Abs(a) <= along && math.Abs(b) <= across {
				e.near = append(e.near, nearPixel{a, b, e.r.lightAt(x, y), e.r.luma(x, y)})
			}
		}
	}
}

// sides are the mean colours clear of the edge, inside (0) and outside (1), and the spread about them.
type sides struct {
	light  [2][3]float64
	luma   [2]float64
	spread float64 // standard deviation of luma, pooled
}

// look measures the two sides of the point; false if one of them has too few pixels.
func (e *edgeReader) look(gap float64) (s sides, ok bool) {
	var n, sq [2]float64
	for _, q := range e.near {
		k, far := sideOf(q.across, gap)
		if !far {
			continue
		}
		n[k]++
		s.luma[k] += q.luma
		sq[k] += q.luma * q.luma
		for i := range 3 {
			s.light[k][i] += float64(q.c[i])
		}
	}
	if n[0] < 8 || n[1] < 8 {
		return s, false
	}
	var ss float64
	for k := range n {
		s.luma[k] /= n[k]
		ss += math.Max(0, sq[k]-n[k]*s.luma[k]*s.luma[k])
		for i := range 3 {
			s.light[k][i] /= n[k]
		}
	}
	s.spread = math.Sqrt(ss/(n[0]+n[1]) + 0.25) // half a level: rounding
	return s, true
}

// mix is the channel mix that best tells the inside from the outside (Fisher's linear discriminant),
// scaled so that the mean inside is 1 and outside 0; false if they look alike.
func (e *edgeReader) mix(s sides, gap float64) (w [3]float64, offset float64, ok bool) {
	cov := e.scatter(gap, s.light)
	var diff [3]float64
	for i := range diff {
		diff[i] = s.light[0][i] - s.light[1][i]
	}
	w = solve3(cov, diff)
	scale := w[0]*diff[0] + w[1]*diff[1] + w[2]*diff[2]
	if !(scale > 1e-9) {
		return w, 0, false
	}
	for i := range w {
		w[i] /= scale
		offset -= w[i] * s.light[1][i]
	}
	return w, offset, true
}

// sideOf says on which side of the contour (0 inside, 1 outside) a pixel lies, and whether it is clear of the edge.
func sideOf(across, gap float64) (int, bool) {
	if across < 0 {
		return 0, across < -gap
	}
	return 1, across > gap
}

// scatter is the pooled covariance of the two sides, with the noise of an 8-bit camera as a floor.
func (e *edgeReader) scatter(gap float64, m [2][3]float64) (cov [3][3]float64) {
	n := 0.0
	for _, q := range e.near {
		k, far := sideOf(q.across, gap)
		if !far {
			continue
		}
		n++
		var d [3]float64
		for i := range 3 {
			d[i] = float64(q.c[i]) - m[k][i]
		}
		for i := range 3 {
			for j := range 3 {
				cov[i][j] += d[i] * d[j]
			}
		}
	}
	const floor = 0.003 // linear light: about one level of 255 in the middle tones
	for i := range 3 {
		for j := range 3 {
			cov[i][j] /= n
		}
		cov[i][i] += floor * floor
	}
	return cov
}

// solve3 solves the symmetric positive definite system a x = b by elimination.
func solve3(a [3][3]float64, b [3]float64) [3]float64 {
	for i := range 3 {
		for k := i + 1; k < 3; k++ {
			f := a[k][i] / a[i][i]
			for j := i; j < 3; j++ {
				a[k][j] -= f * a[i][j]
			}
			b[k] -= f * b[i]
		}
	}
	for i := 2; i >= 0; i-- {
		for j := i + 1; j < 3; j++ {
			b[i] -= a[i][j] * b[j]
		}
		b[i] /= a[i][i]
	}
	return b
}

// take turns the pixels within reach across the contour and along reach along it into samples, by value.
func (e *edgeReader) take(along, across float64, value func(q *nearPixel) float64) []edgeSample {
	e.samples = e.samples[:0]
	for i := range e.near {
		q := &e.near[i]
		if math.Abs(q.along) <= along && q.across >= -inReach*e.scale && q.across <= across {
			e.samples = append(e.samples, edgeSample{q.across, value(q), 1})
		}
	}
	return e.samples
}

// texture is the standard deviation of the values on the two sides, clear of the edge.
func (e *edgeReader) texture(value func(q *nearPixel) float64, gap float64) (t [2]float64) {
	var n, sum, sq [2]float64
	for i := range e.near {
		k, far := sideOf(e.near[i].across, gap)
		if !far {
			continue
		}
		v := value(&e.near[i])
		n[k], sum[k], sq[k] = n[k]+1, sum[k]+v, sq[k]+v*v
	}
	for k := range t {
		m := sum[k] / n[k]
		t[k] = math.Sqrt(math.Max(0, sq[k]/n[k]-m*m))
	}
	return t
}
