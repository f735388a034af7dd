package view

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// usable reports whether a point was measured.
func usable(e EdgePoint) bool {
	return e.State != profile.Hidden && e.State != profile.Inferred && finite2(e.P)
}

// contour is one side of the outline in axis coordinates, |v| outward, and what its rays say of the piece: each
// passes it by, so that at every station the radius is at most its distance from the axis there.
type contour struct {
	d, foot float64
	u, v    []float64
	sigma   []float64 // in units of v
	gap     []bool
	// reversed says that the side ran against the axis.
	reversed bool
	before   []float64 // largest u up to each point
	after    []float64 // smallest u from each point on
	top      float64   // a bound on the radius, mm
}

func newContour(p Projector, s seenSide, side int) contour {
	c := laidOut(p, s, side)
	c.sigma = make([]float64, len(c.u))
	widest := 0.0
	for i, v := range c.v {
		j := i
		if c.reversed {
			j = len(c.u) - 1 - i
		}
		c.sigma[i] = s.sigma[j] * p.across(s.ideal[j])
		widest = max(widest, v)
	}
	// v = r / sqrt(d² - r²) for a cylinder; a rim's near point shows up to r / (d - r) of it.
	c.top = 1.1 * widest * p.D
	c.order()
	return c
}

// laidOut lays a side out in axis coordinates, in their order: a side may run against the axis.
func laidOut(p Projector, s seenSide, side int) contour {
	c := contour{d: p.D, foot: p.Foot, gap: s.gap}
	n := len(s.ideal)
	c.u, c.v = make([]float64, n), make([]float64, n)
	for i, q := range s.ideal {
		u, v := p.fromIdeal(q)
		c.u[i], c.v[i] = u, v*outward(side)
	}
	if n > 1 && c.u[0] > c.u[n-1] {
		c.reverse()
	}
	return c
}

// seenSide is a smoothed side as one camera sees it.
type seenSide struct {
	smoothed
	ideal []r2.Vec // the ideal normalised points that its pixels show
}

func (s smoothed) through(c Camera) seenSide {
	out := seenSide{s, make([]r2.Vec, len(s.at))}
	for i, p := range s.at {
		out.ideal[i] = c.Undistort(p)
	}
	return out
}

// usual is the median half width, in units of v; 0 without points.
func (c *contour) usual() float64 {
	if len(c.v) == 0 {
		return 0
	}
	return median(append([]float64(nil), c.v...))
}

func (c *contour) reverse() {
	c.reversed = true
	n := len(c.u)
	gap := make([]bool, n)
	for i := 0; i < n/2; i++ {
		j := n - 1 - i
		c.u[i], c.u[j] = c.u[j], c.u[i]
		c.v[i], c.v[j] = c.v[j], c.v[i]
	}
	for i := 1; i < n; i++ {
		gap[i] = c.gap[n-i]
	}
	gap[0] = true
	c.gap = gap
}

func (c *contour) order() {
	n := len(c.u)
	c.before, c.after = make([]float64, n), make([]float64, n)
	for i := range c.u {
		c.before[i] = c.u[i]
		if i > 0 {
			c.before[i] = math.Max(c.before[i-1], c.u[i])
		}
	}
	for i := n - 1; i >= 0; i-- {
		c.after[i] = c.u[i]
		if i+1 < n {
			c.after[i] = math.Min(c.after[i+1], c.u[i])
		}
	}
}

// touch is where the nearest ray passes the axis at a station.
type touch struct {
	r float64 // its distance, mm
	u float64 // which ray
	i int     // which point of the contour it is next to
}

// nearest returns the ray that passes the axis nearest at station x, false where the contour shows none.
// Between neighbouring points v = alpha + beta u; with depth t = x/u the squared distance is
// (alpha t + beta x)² + (t - d)², least at t = (d - alpha beta x) / (1 + alpha²).
func (c *contour) nearest(station float64) (touch, bool) {
	x := station - c.foot
	lo, hi := x/(c.d+c.top), x/(c.d-c.top)
	if lo > hi {
		lo, hi = hi, lo
	}
	best := touch{r: math.Inf(1)}
	var a ray
	for i := max(sort.SearchFloat64s(c.before, lo), 1); i < len(c.u) && c.after[i-1] <= hi; i++ {
		if c.gap[i] {
			a.seen = false
			continue
		}
		if !a.seen {
			a = c.ray(i-1, x)
		}
		b := c.ray(i, x)
		if r2, u := c.between(&a, &b, x); r2 < best.r {
			best = touch{r2, u, i}
		}
		a = b
	}
	if math.IsInf(best.r, 1) {
		return best, false
	}
	best.r = math.Sqrt(best.r)
	return best, true
}

// ray is one ray of a contour where it passes the axis at a station.
type ray struct {
	u, v float64
	y, z float64 // across the axis and away from the camera, from the axis, mm
	r2   float64 // squared distance from the axis, mm²; +Inf for a ray that does not come there
	seen bool
}

// ray is that of point i at x.
func (c *contour) ray(i int, x float64) ray {
	q := ray{u: c.u[i], v: c.v[i], r2: math.Inf(1), seen: true}
	if t := x / q.u; t > 0 && !math.IsInf(t, 0) {
		q.y, q.z = t*q.v, t-c.d
		q.r2 = q.y*q.y + q.z*q.z
	}
	return q
}

// between returns the least squared distance at x of the rays between a and b, and the ray.
func (c *contour) between(a, b *ray, x float64) (r2, u float64) {
	if a.u > b.u {
		a, b = b, a
	}
	r2, u = a.r2, a.u
	if b.r2 < a.r2 {
		r2, u = b.r2, b.u
	}
	ua, ub := a.u, b.u
	if ub-ua < 1e-12 {
		return r2, u
	}
	beta := (b.v - a.v) / (ub - ua)
	alpha := a.v - beta*ua
	// Half the derivative of the squared distance by the depth: of one sign at both rays, all between them pass further away.
	if a.r2 < math.Inf(1) && b.r2 < math.Inf(1) && (alpha*a.y+a.z)*(alpha*b.y+b.z) > 0 {
		return r2, u
	}
	t := (c.d - alpha*beta*x) / (1 + alpha*alpha)
	if in := x / t; x == 0 && ua <= 0 && ub >= 0 || t > 0 && in > ua && in < ub {
		y, z := alpha*t+beta*x, t-c.d
		if h := y*y + z*z; h < r2 {
			return h, in
		}
	}
	return r2, u
}
