package view

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// section is the cross-section of a square: its corners about the axis, in the axis frame's y and z, in order.
type section struct {
	corners [4]r2.Vec
	lo, hi  float64 // least and greatest z
}

// newSection returns the section of a square with the side, mm, turned by roll about the axis, radians.
func newSection(side, roll float64) section {
	var s section
	for k := range s.corners {
		sin, cos := math.Sincos(roll + math.Pi/4 + float64(k)*math.Pi/2)
		s.corners[k] = r2.Vec{X: side / math.Sqrt2 * cos, Y: side / math.Sqrt2 * sin}
		s.lo, s.hi = min(s.lo, s.corners[k].Y), max(s.hi, s.corners[k].Y)
	}
	return s
}

// outward returns +1 for side 1 and -1 for side 0.
func outward(side int) float64 { return float64(2*side - 1) }

// extent returns how far the section reaches towards a side at depth z from the axis, and false where it does
// not reach that depth.
func (s *section) extent(z float64, side int) (float64, bool) {
	best, ok := math.Inf(-1), false
	for k := range s.corners {
		a, b := s.corners[k], s.corners[(k+1)%4]
		if (z-a.Y)*(z-b.Y) > 0 {
			continue
		}
		ya, yb := a.X*outward(side), b.X*outward(side)
		y := max(ya, yb)
		if a.Y != b.Y {
			y = ya + (z-a.Y)/(b.Y-a.Y)*(yb-ya)
		}
		best, ok = max(best, y), true
	}
	return best, ok
}

// prism is the outline of a square: the hull of its eight corners in u, v, cut in two at its ends in u.
type prism struct {
	lo, hi float64
	hull   [2][]r2.Vec // for each side, u and |v| outward, by growing u
}

// newPrism looks at a square from x0 to x1 (mm from the foot of the perpendicular).
func newPrism(p Projector, x0, x1, side, roll float64) prism {
	sec := newSection(side, roll)
	out := prism{lo: math.Inf(1), hi: math.Inf(-1)}
	points := make([]r2.Vec, 0, 8)
	for _, c := range sec.corners {
		for _, x := range []float64{x0, x1} {
			t := p.D + c.Y
			points = append(points, r2.Vec{X: x / t, Y: c.X / t})
		}
	}
	sort.Slice(points, func(i, j int) bool {
		return points[i].X < points[j].X || points[i].X == points[j].X && points[i].Y < points[j].Y
	})
	out.lo, out.hi = points[0].X, points[len(points)-1].X
	for side := range out.hull {
		out.hull[side] = upperHull(points, outward(side))
	}
	return out
}

// upperHull returns the hull's upper chain of points sorted by X, with Y multiplied by sign.
func upperHull(points []r2.Vec, sign float64) []r2.Vec {
	var h []r2.Vec
	for _, q := range points {
		q.Y *= sign
		for len(h) > 1 && r2.Cross(r2.Sub(h[len(h)-1], h[len(h)-2]), r2.Sub(q, h[len(h)-2])) >= 0 {
			h = h[:len(h)-1]
		}
		h = append(h, q)
	}
	return h
}

// width returns how far the prism reaches at u.
func (s *prism) width(u float64, side int) (float64, bool) {
	if u < s.lo || u > s.hi {
		return 0, false
	}
	h := s.hull[side]
	best := math.Inf(-1)
	for i := 1; i < len(h); i++ {
		a, b := h[i-1], h[i]
		switch {
		case u < a.X || u > b.X:
		case a.X == b.X:
			best = math.Max(best, math.Max(a.Y, b.Y))
		default:
			best = math.Max(best, a.Y+(u-a.X)/(b.X-a.X)*(b.Y-a.Y))
		}
	}
	return best, !math.IsInf(best, -1)
}

// shoulder is a turned surface cut by the prism of the square it belongs to.
type shoulder struct {
	turned
	section section
}

// shoulderSteps is into how many depths a shoulder is cut to find the outermost; the search between them is
// exact to the golden section's limit. The outermost of the smaller of two hills is one hill or two.
const shoulderSteps = 24

// widest returns the largest |v| on a side of rays at u that meet the shoulder.
func (c *shoulder) widest(u, d float64, side int) (float64, bool) {
	ta, tb, ok := c.span(u, d)
	if !ok {
		return 0, false
	}
	ta, tb = max(ta, d+c.section.lo), min(tb, d+c.section.hi)
	if ta > tb {
		return 0, false
	}
	best, at := math.Inf(-1), 0
	step := (tb - ta) / shoulderSteps
	for i := 0; i <= shoulderSteps; i++ {
		if v := c.at(u, d, ta+float64(i)*step, side); v > best {
			best, at = v, i
		}
	}
	if math.IsInf(best, -1) {
		return 0, false
	}
	a, b := ta+float64(max(at-1, 0))*step, ta+float64(min(at+1, shoulderSteps))*step
	return math.Max(best, c.golden(u, d, a, b, side)), true
}

// at is how far the shoulder reaches in the plane of depth t, as v: the lesser of the round and the square.
func (c *shoulder) at(u, d, t float64, side int) float64 {
	flat, ok := c.section.extent(t-d, side)
	r := c.At(u * t)
	round := (r - t + d) * (r + t - d)
	if !ok || round < 0 {
		return math.Inf(-1)
	}
	return min(flat, math.Sqrt(round)) / t
}

// golden returns the greatest value between a and b by golden section.
func (c *shoulder) golden(u, d, a, b float64, side int) float64 {
	const share = 0.6180339887498949
	m, n := b-share*(b-a), a+share*(b-a)
	fm, fn := c.at(u, d, m, side), c.at(u, d, n, side)
	// 30 steps shrink the interval by 1.9e6, to a micrometre of depth.
	for range 30 {
		if fm >= fn {
			b, n, fn = n, m, fm
			m = b - share*(b-a)
			fm = c.at(u, d, m, side)
			continue
		}
		a, m, fm = m, n, fn
		n = a + share*(b-a)
		fn = c.at(u, d, n, side)
	}
	return math.Max(fm, fn)
}

// At returns the primitive's radius at x, mm from the foot.
func (t *turned) At(x float64) float64 {
	if t.arc {
		return t.radius(x)
	}
	return t.at0 + t.slope*x
}
