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
	luma          float64 // JPEG luma of the tones, 0..255
	at            int     // where its channels begin in the picture
}

// edgeReader reads the pixels about contour points. It keeps its buffers, so one serves one goroutine.
type edgeReader struct {
	r     *raster
	tones toneTable
	scale float64     // of the reaches, for blurred pictures; at least 1
	near  []nearPixel // within the reach of samples
	far   []nearPixel // clear of the edge, within the reach of the mix
	cov   coverage
	room  []edgeSample // for the samples of further points
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

// read reads the pixels about a point. The reader does not touch the samples again.
func (e *edgeReader) read(c *contourPoint) (out reading) {
	s, ok := e.look(c)
	if !ok || !e.cover(&s) {
		return out
	}
	out.ok, out.kind, out.texture = true, e.cov.kind, e.texture(&s)
	if len(e.room) < len(e.near) {
		e.room = make([]edgeSample, 64*len(e.near)) // about as many as a goroutine's share of points needs
	}
	out.samples, e.room = e.room[:len(e.near):len(e.near)], e.room[len(e.near):]
	n := 0
	for _, inner := range [2]bool{true, false} {
		for i := range e.near {
			if q := &e.near[i]; (math.Abs(q.along) <= middleReach) == inner {
				out.samples[n] = edgeSample{q.across, e.value(q), 1}
				n++
			}
		}
		if inner {
			out.middle = n
		}
	}
	return out
}

// sides are the mean colours clear of the edge, inside (0) and outside (1), and the spread about them.
type sides struct {
	n      [2]float64
	light  [2][3]float64
	luma   [2]float64
	square [2]float64 // sums of the squares of luma
	sd     [2]float64 // standard deviation of luma
	spread float64    // the same, pooled
}

// look gathers the pixels about c, and measures the two sides; false if one of them has too few pixels.
func (e *edgeReader) look(c *contourPoint) (s sides, ok bool) {
	e.near, e.far = e.near[:0], e.far[:0]
	if e.r.p8 != nil {
		gather(e, e.r.p8, 1, c, &s)
	} else {
		gather(e, e.r.p16, 255.0/65535, c, &s)
	}
	return s, s.finish()
}

// gather adds up the two sides of the edge at c from pixels of the given size in tones, and keeps those near it.
func gather[T uint8 | uint16](e *edgeReader, pix []T, unit float64, c *contourPoint, s *sides) {
	along, across, gap := mixAlong*e.scale, mixAcross*e.scale, mixGap*e.scale
	nearAlong, in, out := alongReach*e.scale, -inReach*e.scale, acrossReach*e.scale
	ex := math.Abs(c.t.X)*along + math.Abs(c.n.X)*across
	ey := math.Abs(c.t.Y)*along + math.Abs(c.n.Y)*across
	x0, x1 := max(0, int(math.Ceil(c.p.X-ex))), min(e.r.w-1, int(c.p.X+ex))
	y0, y1 := max(0, int(math.Ceil(c.p.Y-ey))), min(e.r.h-1, int(c.p.Y+ey))
	wb, wg, wr := unit*lumaWeights[0], unit*lumaWeights[1], unit*lumaWeights[2]
	bend, light := c.bend/2, e.r.light
	for y := y0; y <= y1 && x0 <= x1; y++ {
		dx, dy := float64(x0)-c.p.X, float64(y)-c.p.Y
		a, b := dx*c.t.X+dy*c.t.Y, dx*c.n.X+dy*c.n.Y
		at := 3 * (y*e.r.w + x0)
		for row := pix[at : at+3*(x1-x0+1)]; len(row) >= 3; row, at, a, b = row[3:], at+3, a+c.t.X, b+c.n.X {
			d := b + bend*a*a
			if math.Abs(a) > along || math.Abs(d) > across {
				continue
			}
			luma := wb*float64(row[0]) + wg*float64(row[1]) + wr*float64(row[2])
			if math.Abs(a) <= nearAlong && d >= in && d <= out {
				e.near = append(e.near, nearPixel{a, d, luma, at})
			}
			k, clear := sideOf(d, gap)
			if !clear {
				continue
			}
			e.far = append(e.far, nearPixel{a, d, luma, at})
			s.n[k]++
			s.luma[k] += luma
			s.square[k] += luma * luma
			sum := &s.light[k]
			sum[0] += float64(light[row[0]])
			sum[1] += float64(light[row[1]])
			sum[2] += float64(light[row[2]])
		}
	}
}

// finish turns the sums over the two sides into means.
func (s *sides) finish() (ok bool) {
	if s.n[0] < 8 || s.n[1] < 8 {
		return false
	}
	var ss float64
	for k, n := range s.n {
		s.luma[k] /= n
		v := math.Max(0, s.square[k]-n*s.luma[k]*s.luma[k])
		s.sd[k] = math.Sqrt(v / n)
		ss += v
		for i := range 3 {
			s.light[k][i] /= n
		}
	}
	s.spread = math.Sqrt(ss/(s.n[0]+s.n[1]) + 0.25) // half a level: rounding
	return true
}

// sideOf says on which side of the contour (0 inside, 1 outside) a pixel lies, and whether it is clear of the edge.
func sideOf(across, gap float64) (int, bool) {
	if across < 0 {
		return 0, across < -gap
	}
	return 1, across > gap
}
