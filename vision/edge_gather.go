package vision

import (
	"math"
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
	r     *raster
	tones toneTable
	scale float64 // of the reaches, for blurred pictures; at least 1
	near  []nearPixel
	cov   coverage
}

// reading is what is seen about one contour point.
type reading struct {
	ok      bool
	kind    measure
	texture [2]float64
	samples []edgeSample // of all pixels near the point
	middle  int          // the first so many of them lie within a pixel along the contour
}

// middleReach is how far along the contour (px) the middle samples of a reading lie.
const middleReach = 1

// read reads the pixels about a point. The samples do not share memory with the reader.
func (e *edgeReader) read(c contourPoint) (out reading) {
	s, ok := e.look(c)
	if !ok || !e.cover(&s) {
		return out
	}
	out.ok, out.kind, out.texture = true, e.cov.kind, e.texture(&s)
	out.samples = make([]edgeSample, 0, 48) // five rows of eight pixels and some more on a slant
	out.samples = e.take(out.samples, -1, middleReach)
	out.middle = len(out.samples)
	out.samples = e.take(out.samples, middleReach, alongReach*e.scale)
	return out
}

// take appends the pixels within reach across the contour and more than from but at most to along it, as samples.
func (e *edgeReader) take(out []edgeSample, from, to float64) []edgeSample {
	in, across := -inReach*e.scale, acrossReach*e.scale
	for i := range e.near {
		q := &e.near[i]
		if a := math.Abs(q.along); a > from && a <= to && q.across >= in && q.across <= across {
			out = append(out, edgeSample{q.across, e.cov.value(q), 1})
		}
	}
	return out
}

// sides are the mean colours clear of the edge, inside (0) and outside (1), and the spread about them.
type sides struct {
	n      [2]float64
	light  [2][3]float64
	luma   [2]float64
	sd     [2]float64 // standard deviation of luma
	spread float64    // the same, pooled
}

// look gathers the pixels about c whose place along the contour is within the mix reach, and measures
// the two sides; false if one of them has too few pixels.
func (e *edgeReader) look(c contourPoint) (s sides, ok bool) {
	e.near = e.near[:0]
	along, across := mixAlong*e.scale, mixAcross*e.scale
	ex := math.Abs(c.t.X)*along + math.Abs(c.n.X)*across
	ey := math.Abs(c.t.Y)*along + math.Abs(c.n.Y)*across
	x0, x1 := max(0, int(math.Ceil(c.p.X-ex))), min(e.r.w-1, int(c.p.X+ex))
	y0, y1 := max(0, int(math.Ceil(c.p.Y-ey))), min(e.r.h-1, int(c.p.Y+ey))
	for y := y0; y <= y1; y++ {
		dx, dy := float64(x0)-c.p.X, float64(y)-c.p.Y
		a, b := dx*c.t.X+dy*c.t.Y, dx*c.n.X+dy*c.n.Y
		for x := x0; x <= x1; x, a, b = x+1, a+c.t.X, b+c.n.X {
			d := b + c.bend*a*a/2
			if math.Abs(a) <= along && math.Abs(d) <= across {
				e.near = append(e.near, nearPixel{a, d, e.r.lightAt(x, y), e.r.luma(x, y)})
			}
		}
	}
	return s, s.measure(e.near, mixGap*e.scale)
}

// measure fills the figures of the two sides.
func (s *sides) measure(near []nearPixel, gap float64) (ok bool) {
	var sq [2]float64
	for i := range near {
		q := &near[i]
		k, far := sideOf(q.across, gap)
		if !far {
			continue
		}
		s.n[k]++
		s.luma[k] += q.luma
		sq[k] += q.luma * q.luma
		for i, v := range q.c {
			s.light[k][i] += float64(v)
		}
	}
	if s.n[0] < 8 || s.n[1] < 8 {
		return false
	}
	var ss float64
	for k, n := range s.n {
		s.luma[k] /= n
		v := math.Max(0, sq[k]-n*s.luma[k]*s.luma[k])
		s.sd[k] = math.Sqrt(v / n)
		ss += v
		for i := range 3 {
			s.light[k][i] /= n
		}
	}
	s.spread = math.Sqrt(ss/(s.n[0]+s.n[1]) + 0.25) // half a level: rounding
	return true
}

// mix is the channel mix that best tells the inside from the outside (Fisher's linear discriminant),
// scaled so that the mean inside is 1 and outside 0; false if they look alike.
func (e *edgeReader) mix(s *sides, gap float64) (w [3]float64, offset float64, ok bool) {
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
