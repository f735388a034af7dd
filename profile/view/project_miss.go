package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// SeenPoint is an outline point ready to be compared with a Look: in axis coordinates, with what one pixel along
// its normal is in them.
type SeenPoint struct {
	U, V  float64 // V outward: positive on the point's own side
	Side  int
	Sigma float64 // px

	du, dv float64 // change of U and V for one pixel outward
}

// Seen prepares the measured points of a side (0 or 1).
func (p Projector) Seen(side int, pts []EdgePoint) []SeenPoint {
	out := make([]SeenPoint, 0, len(pts))
	for _, e := range pts {
		if usable(e) {
			out = append(out, p.seen(side, e))
		}
	}
	return out
}

// SeenEnd prepares the measured points of an end face, each on the side of the axis where it lies.
func (p Projector) SeenEnd(pts []EdgePoint) []SeenPoint {
	out := make([]SeenPoint, 0, len(pts))
	for _, e := range pts {
		if !usable(e) {
			continue
		}
		side := 0
		if _, v := p.ToAxis(e.P); v > 0 {
			side = 1
		}
		out = append(out, p.seen(side, e))
	}
	return out
}

func (p Projector) seen(side int, e EdgePoint) SeenPoint {
	u, v := p.ToAxis(e.P)
	byU, byV := p.PixelsPer(u, v)
	det := r2.Cross(byU, byV)
	q := SeenPoint{U: u, V: v * outward(side), Side: side, Sigma: e.Sigma}
	q.du = r2.Cross(e.N, byV) / det
	q.dv = r2.Cross(byU, e.N) / det * outward(side)
	return q
}

const (
	// missReach is how far along its normal a point looks for the outline, px.
	missReach = 12.0
	// missTolerance ends the search, px.
	missTolerance = 1e-7
)

// Miss returns how far a point lies outside the outline of the piece, in pixels along the point's own normal:
// positive when the point is further out. It follows shoulder faces and rims, where the width jumps. Where there is
// no outline within 12 pixels it returns 12 with the sign of the side on which the point lies.
func (l *Look) Miss(q SeenPoint) float64 {
	g := func(s float64) float64 {
		v := q.V + s*q.dv
		w, ok := l.Width(q.U+s*q.du, q.Side)
		if !ok {
			return math.Abs(v) + 1e-6
		}
		return v - w
	}
	g0 := g(0)
	if g0 == 0 {
		return 0
	}
	// The outline lies inwards (s < 0) of a point that is outside.
	dir := -math.Copysign(1, g0)
	s0, s := 0.0, dir*math.Max(2*math.Abs(g0)/math.Hypot(q.du, q.dv), 0.05)
	if math.Abs(s) > missReach {
		s = dir * missReach
	}
	gs := g(s)
	for (gs > 0) == (g0 > 0) {
		if math.Abs(s) >= missReach {
			return -dir * missReach
		}
		s0, g0 = s, gs
		s = dir * math.Min(2*math.Abs(s), missReach)
		gs = g(s)
	}
	return -crossing(g, s0, g0, s, gs)
}

// crossing finds where g changes its sign between a and b: regula falsi (Illinois), halving every third step so
// that a jump does not slow it down.
func crossing(g func(float64) float64, a, ga, b, gb float64) float64 {
	for k := 0; k < 60 && math.Abs(b-a) > missTolerance; k++ {
		c := b - gb*(b-a)/(gb-ga)
		if k%3 == 2 {
			c = (a + b) / 2
		}
		gc := g(c)
		if math.Abs(gc) < 1e-13 {
			return c
		}
		if (gc > 0) == (gb > 0) {
			ga /= 2
		} else {
			a, ga = b, gb
		}
		b, gb = c, gc
	}
	return (a + b) / 2
}
