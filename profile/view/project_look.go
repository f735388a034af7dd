package view

import (
	"math"

	"spindlestick/profile"
)

// Look is a pattern as one camera sees it, ready to be asked for its outline. It is safe for concurrent use.
type Look struct {
	p      Projector
	turned []turned
	prisms []prism
	cut    []shoulder
	lo, hi float64 // range of u that the piece covers
	top    float64 // largest radius of the turned parts, mm
}

// turned is one meridian primitive with stations counted from the foot of the perpendicular.
type turned struct {
	x0, x1, r0, r1 float64
	top            float64 // largest radius it could reach
	slope, at0     float64 // a line's slope and its radius at x = 0, mm
	arc            bool
	cx, cr, rho    float64 // an arc's centre and radius
	sign           float64 // +1: the arc lies outside its centre, -1: inside
}

// Look prepares a pattern. Squares are prisms with their roll about the axis (0 = a face square to the
// perpendicular from the camera); shoulders are turned surfaces cut by the prism beside them.
func (p Projector) Look(pat profile.Pattern) *Look {
	l := &Look{p: p, turned: make([]turned, 0, 2*len(pat.Elements))}
	for i, e := range pat.Elements {
		switch e.Kind {
		case profile.Square:
			l.prisms = append(l.prisms, newPrism(p, e.X0-p.Foot, e.X1-p.Foot, e.Side, e.Roll))
		case profile.Shoulder:
			for _, s := range e.Segments() {
				l.cut = append(l.cut, shoulder{turned: newTurned(s, p.Foot), section: newSection(e.Side, rollBeside(pat, i))})
			}
		default:
			for _, s := range e.Segments() {
				l.turned = append(l.turned, newTurned(s, p.Foot))
			}
		}
	}
	l.reach()
	return l
}

// LookAt prepares a turned meridian alone. Its segments follow one another along the axis.
func (p Projector) LookAt(segments []profile.Segment) *Look {
	l := &Look{p: p, turned: make([]turned, 0, len(segments))}
	for _, s := range segments {
		if s.X1 > s.X0 { // a shoulder's face shows nothing that its rims do not
			l.turned = append(l.turned, newTurned(s, p.Foot))
		}
	}
	l.reach()
	return l
}

// rollBeside is the roll of the square that shoulder i belongs to.
func rollBeside(pat profile.Pattern, i int) float64 {
	for _, j := range []int{i - 1, i + 1} {
		if j >= 0 && j < len(pat.Elements) && pat.Elements[j].Kind == profile.Square {
			return pat.Elements[j].Roll
		}
	}
	return pat.Elements[i].Roll
}

func newTurned(s profile.Segment, foot float64) turned {
	t := turned{x0: s.X0 - foot, x1: s.X1 - foot, r0: s.R0, r1: s.R1, top: math.Max(s.R0, s.R1)}
	if cx, cr, ok := s.Centre(); ok {
		t.arc, t.cx, t.cr, t.rho = true, cx-foot, cr, s.Radius()
		t.sign = math.Copysign(1, s.Sagitta)
		if _, r, ok := s.Extreme(); ok {
			t.top = math.Max(t.top, r)
		}
		return t
	}
	t.slope = (s.R1 - s.R0) / (s.X1 - s.X0)
	t.at0 = t.r0 - t.slope*t.x0
	return t
}

// reach finds the range of u that the piece covers: its ends' rims at their nearest and farthest points.
func (l *Look) reach() {
	l.lo, l.hi = math.Inf(1), math.Inf(-1)
	add := func(x, half float64) {
		for _, d := range []float64{l.p.D - half, l.p.D + half} {
			l.lo, l.hi = math.Min(l.lo, x/d), math.Max(l.hi, x/d)
		}
	}
	for _, t := range l.turned {
		l.top = math.Max(l.top, t.top)
		add(t.x0, t.top)
		add(t.x1, t.top)
	}
	for _, c := range l.cut {
		add(c.x0, c.top)
		add(c.x1, c.top)
	}
	for _, s := range l.prisms {
		l.lo, l.hi = math.Min(l.lo, s.lo), math.Max(l.hi, s.hi)
	}
}

// Reach returns a range of u outside of which nothing of the piece is seen.
func (l *Look) Reach() (lo, hi float64) { return l.lo, l.hi }

// Width returns how far the piece reaches at u towards a side (0 or 1): the largest v outward, and false where it is
// not seen. Only the tip of a rolled square may lie beyond the axis (v < 0).
func (l *Look) Width(u float64, side int) (float64, bool) {
	if u < l.lo || u > l.hi {
		return 0, false
	}
	best, d := math.Inf(-1), l.p.D
	far, near := u*(d+l.top), u*(d-l.top)
	lo, hi := min(far, near), max(far, near)
	for i := l.first(lo); i < len(l.turned) && l.turned[i].x0 <= hi; i++ {
		if h, ok := l.turned[i].widest(u, d); ok && h > best {
			best = h
		}
	}
	w := math.Sqrt(best) // NaN where only rays past the piece were found
	for i := range l.prisms {
		if v, ok := l.prisms[i].width(u, side); ok && !(w >= v) {
			w = v
		}
	}
	for i := range l.cut {
		if v, ok := l.cut[i].widest(u, d, side); ok && !(w >= v) {
			w = v
		}
	}
	return w, !math.IsNaN(w)
}

// first returns the first primitive that ends at x or beyond. They stand in order along the axis.
func (l *Look) first(x float64) int {
	lo, hi := 0, len(l.turned)
	for lo < hi {
		if m := (lo + hi) / 2; l.turned[m].x1 < x {
			lo = m + 1
		} else {
			hi = m
		}
	}
	return lo
}

// Widths fills out with Width at each u of a side, NaN where the piece is not seen.
func (l *Look) Widths(us []float64, side int, out []float64) {
	for i, u := range us {
		v, ok := l.Width(u, side)
		if !ok {
			v = math.NaN()
		}
		out[i] = v
	}
}

// span returns the depths t = 1/s at which the plane of rays u crosses the primitive and it could be met there:
// stations x = u t between its ends, and |t - d| <= top.
func (t *turned) span(u, d float64) (ta, tb float64, ok bool) {
	ta, tb = d-t.top, d+t.top
	if u == 0 {
		return ta, tb, t.x0 <= 0 && t.x1 >= 0
	}
	a, b := t.x0/u, t.x1/u
	if a > b {
		a, b = b, a
	}
	ta, tb = max(ta, a), min(tb, b)
	return ta, tb, ta <= tb && ta > 0
}

// widest returns the largest v² of rays at u that meet the primitive: the greatest over depths t of
// (r(ut)² - (t - d)²) / t². It is negative when all rays at u miss it.
func (t *turned) widest(u, d float64) (float64, bool) {
	ta, tb, ok := t.span(u, d)
	if !ok {
		return 0, false
	}
	if t.arc {
		return t.widestArc(u, d, ta, tb), true
	}
	return t.widestLine(u, d, ta, tb), true
}

// widestLine: with s = 1/t and r = a + bx, v² = (as + bu)² - (1 - ds)² is a parabola in s.
func (t *turned) widestLine(u, d, ta, tb float64) float64 {
	a, bu := t.at0, t.slope*u
	at := func(s float64) float64 {
		q, w := a*s+bu, 1-d*s
		return (q - w) * (q + w)
	}
	sa, sb := 1/tb, 1/ta
	best := max(at(sa), at(sb))
	if lead := a*a - d*d; lead < 0 {
		if s := -(a*bu + d) / lead; s > sa && s < sb {
			best = max(best, at(s))
		}
	}
	return best
}
