package view

import (
	"math"
	"sort"

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
	before  []float64 // largest u up to each point
	after   []float64 // smallest u from each point on
	top     float64   // a bound on the radius, mm
}

func newContour(p Projector, s smoothed, side int) contour {
	c := contour{d: p.D, foot: p.Foot, gap: s.gap}
	n := len(s.at)
	c.u, c.v, c.sigma = make([]float64, n), make([]float64, n), make([]float64, n)
	for i, q := range s.at {
		u, v := p.ToAxis(q)
		c.u[i], c.v[i] = u, v*outward(side)
	}
	// A side may run against the axis: the order in u is what the search needs.
	if n > 1 && c.u[0] > c.u[n-1] {
		c.reverse()
	}
	widest := 0.0
	for i := range c.u {
		_, dv := p.PixelsPer(c.u[i], c.v[i]*outward(side))
		c.sigma[i] = s.sigma[i] / math.Hypot(dv.X, dv.Y)
		widest = math.Max(widest, c.v[i])
	}
	// v = r / sqrt(d² - r²) for a cylinder; a rim's near point shows up to r / (d - r) of it.
	c.top = 1.1 * widest * p.D
	c.order()
	return c
}

// usual is the median half width, in units of v; 0 without points.
func (c *contour) usual() float64 {
	if len(c.v) == 0 {
		return 0
	}
	return median(append([]float64(nil), c.v...))
}

func (c *contour) reverse() {
	n := len(c.u)
	gap := make([]bool, n)
	for i := 0; i < n/2; i++ {
		j := n - 1 - i
		c.u[i], c.u[j] = c.u[j], c.u[i]
		c.v[i], c.v[j] = c.v[j], c.v[i]
		c.sigma[i], c.sigma[j] = c.sigma[j], c.sigma[i]
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
	first := sort.SearchFloat64s(c.before, lo)
	last := sort.Search(len(c.after), func(i int) bool { return c.after[i] > hi })
	best := touch{r: math.Inf(1)}
	for i := max(first, 1); i <= last && i < len(c.u); i++ {
		if c.gap[i] {
			continue
		}
		if r2, u := c.between(i, x); r2 < best.r {
			best = touch{r2, u, i}
		}
	}
	if math.IsInf(best.r, 1) {
		return best, false
	}
	best.r = math.Sqrt(best.r)
	return best, true
}

// between returns the least squared distance at x of the rays between points i-1 and i, and the ray.
func (c *contour) between(i int, x float64) (r2, u float64) {
	ua, va, ub, vb := c.u[i-1], c.v[i-1], c.u[i], c.v[i]
	if ua > ub {
		ua, va, ub, vb = ub, vb, ua, va
	}
	ra, rb := c.distance2(ua, va, x), c.distance2(ub, vb, x)
	r2, u = ra, ua
	if rb < ra {
		r2, u = rb, ub
	}
	if ub-ua < 1e-12 {
		return r2, u
	}
	beta := (vb - va) / (ub - ua)
	alpha := va - beta*ua
	t := (c.d - alpha*beta*x) / (1 + alpha*alpha)
	if in := x / t; x == 0 && ua <= 0 && ub >= 0 || t > 0 && in > ua && in < ub {
		y, z := alpha*t+beta*x, t-c.d
		if h := y*y + z*z; h < r2 {
			return h, in
		}
	}
	return r2, u
}

// distance2 is the squared distance from the axis at x of the ray u, v.
func (c *contour) distance2(u, v, x float64) float64 {
	t := x / u
	if !(t > 0) || math.IsInf(t, 0) {
		return math.Inf(1)
	}
	y, z := t*v, t-c.d
	return y*y + z*z
}
