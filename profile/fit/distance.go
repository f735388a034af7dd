package fit

import (
	"math"

	"spindlestick/profile"
)

// curve is a segment made ready for many distances.
type curve struct {
	x0, r0, x1, r1 float64
	arc            bool
	cx, cr, radius float64
	sign           float64 // +1 convex
}

func newCurve(s profile.Segment) curve {
	c := curve{x0: s.X0, r0: s.R0, x1: s.X1, r1: s.R1}
	if cx, cr, ok := s.Centre(); ok {
		c.arc, c.cx, c.cr, c.radius, c.sign = true, cx, cr, s.Radius(), math.Copysign(1, s.Sagitta)
	}
	return c
}

// distance returns the distance of a point, mm: positive on the outer side.
func (c *curve) distance(x, r float64) float64 {
	if c.arc {
		return c.toArc(x, r)
	}
	dx, dr := c.x1-c.x0, c.r1-c.r0
	q := dx*dx + dr*dr
	if q == 0 {
		return math.Hypot(x-c.x0, r-c.r0)
	}
	t := ((x-c.x0)*dx + (r-c.r0)*dr) / q
	if t < 0 || t > 1 {
		return c.toEnd(x, r)
	}
	return ((r-c.r0)*dx - (x-c.x0)*dr) / math.Sqrt(q)
}

func (c *curve) toArc(x, r float64) float64 {
	px, pr := x-c.cx, r-c.cr
	// Seen from the centre a convex arc runs clockwise from its start, a concave one counter-clockwise.
	fromStart := px*(c.r0-c.cr) - pr*(c.x0-c.cx)
	toEnd := (c.x1-c.cx)*pr - (c.r1-c.cr)*px
	if c.sign*fromStart < 0 || c.sign*toEnd < 0 {
		return c.toEnd(x, r)
	}
	return c.sign * (math.Hypot(px, pr) - c.radius)
}

// toEnd is the distance to the nearer end, signed by the side of the chord the point lies on.
func (c *curve) toEnd(x, r float64) float64 {
	d := math.Min(math.Hypot(x-c.x0, r-c.r0), math.Hypot(x-c.x1, r-c.r1))
	if (r-c.r0)*(c.x1-c.x0)-(x-c.x0)*(c.r1-c.r0) < 0 {
		return -d
	}
	return d
}
