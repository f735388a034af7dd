package fit

import (
	"math"
	"math/rand/v2"

	"spindlestick/profile"
)

// maker invents turnings that a turner could have made: mouldings separated by fillets, long parts between
// groups, squares or tenons at the ends (proportions: common practice, no source).
type maker struct {
	*rand.Rand
	x   float64
	big float64 // the largest diameter of the round parts, mm
	out []profile.Element
}

func (m *maker) in(lo, hi float64) float64 { return lo + (hi-lo)*m.Float64() }

func (m *maker) add(e profile.Element, length float64) {
	e.X0, e.X1 = m.x, m.x+length
	m.x = e.X1
	m.out = append(m.out, e)
}

func (m *maker) last() float64 {
	if len(m.out) == 0 {
		return 0
	}
	return m.out[len(m.out)-1].D1
}

func (m *maker) fillet(d float64) {
	m.add(profile.Element{Kind: profile.Fillet, D0: d, D1: d}, m.in(0.6, 0.9)*math.Min(filletLimit(d), 5))
}

func (m *maker) cylinder(d, length float64) {
	m.add(profile.Element{Kind: profile.Cylinder, D0: d, D1: d}, math.Max(length, 1.25*filletLimit(d)))
}

// bead stands on d; its height is a share of its width.
func (m *maker) bead(d, width float64) {
	m.add(profile.Element{Kind: profile.Bead, D0: d, D1: d, Sagitta: width * m.in(0.28, 0.47)}, width)
}

func (m *maker) cove(d, width float64) {
	h := math.Min(width*m.in(0.2, 0.42), 0.3*d)
	m.add(profile.Element{Kind: profile.Cove, D0: d, D1: d, Sagitta: -h}, width)
}

func (m *maker) vee(d float64) {
	depth := m.in(0.05, 0.09) * d
	half := m.in(30, 46) * math.Pi / 180
	w := 2 * depth * math.Tan(half)
	m.add(profile.Element{Kind: profile.Vee, D0: d, D1: d, InnerX: m.x + w/2, InnerD: d - 2*depth}, w)
}

// quarterArc is a half bead or half cove between two diameters, level at one end.
func (m *maker) quarterArc(convex bool, d0, d1, length float64) {
	s := profile.Segment{X0: 0, R0: d0 / 2, X1: length, R1: d1 / 2}
	e := profile.Element{Kind: profile.HalfCove, D0: d0, D1: d1, Sagitta: levelSagitta(s, convex)}
	if convex {
		e.Kind = profile.HalfBead
	}
	m.add(e, length)
}

func (m *maker) ogee(d0, d1, length float64) {
	at := m.in(0.4, 0.6)
	e := profile.Element{Kind: profile.Ogee, D0: d0, D1: d1, InnerX: m.x + at*length, InnerD: d0 + at*(d1-d0)}
	s := profile.Segment{X0: 0, R0: d0 / 2, X1: at * length, R1: e.InnerD / 2}
	e.Sagitta = levelSagitta(s, d1 < d0)
	m.add(e, length)
}

func (m *maker) taper(d0, d1, length float64) {
	m.add(profile.Element{Kind: profile.Taper, D0: d0, D1: d1}, length)
}

func (m *maker) swell(d0, d1, length float64) {
	h := math.Min(m.in(0.015, 0.1)*length, (1.15*m.big-d0)/2)
	m.add(profile.Element{Kind: profile.Swell, D0: d0, D1: d1, Sagitta: h + math.Abs(d1-d0)/4}, length)
}

// square is followed (or led, when atStart is false) by a shoulder down to d.
func (m *maker) square(side, d float64, atStart bool) {
	length := m.in(1.5, 4) * side
	plain := profile.Element{Kind: profile.Square, D0: side, D1: side, Side: side}
	corner := side / math.Sqrt2
	style := []profile.Style{profile.Quarter, profile.Reversed}[m.IntN(2)]
	drop := corner - d/2
	half := profile.Segment{X0: 0, R0: side / 2, X1: 0, R1: d / 2}
	if style == profile.Quarter {
		rad := drop * m.in(1.2, 1.5)
		reach := func(y float64) float64 { return math.Sqrt(2*rad*y - y*y) }
		half.X1 = reach(drop) - reach(corner-side/2)
	} else {
		rad := drop * m.in(0.7, 0.9)
		half.X1 = math.Sqrt(2*rad*(side-d)/2 - (side-d)*(side-d)/4)
		half.Sagitta = levelSagitta(half, false)
	}
	e := shoulderElement(half, style, true)
	l := e.X1 - e.X0
	if atStart {
		m.add(plain, length)
		e.InnerX += m.x - e.X0
		m.add(e, l)
		return
	}
	e.D0, e.D1 = e.D1, e.D0
	if style == profile.Reversed {
		e.Sagitta = -e.Sagitta
		e.InnerX = m.x + l/2
	}
	m.add(e, l)
	m.add(plain, length)
}

// group adds a row of mouldings at about diameter d.
func (m *maker) group(d float64) {
	w := m.in(0.2, 0.35) * d
	switch m.IntN(4) {
	case 0:
		m.fillet(d * m.in(0.85, 0.95))
		m.bead(m.last()*m.in(1.0, 1.03), w)
		m.fillet(m.out[len(m.out)-2].D1)
	case 1:
		m.fillet(d)
		m.cove(d*m.in(0.94, 1), w*1.6)
		m.fillet(d)
	case 2:
		m.cylinder(d, 0.3*d)
		m.vee(d)
		m.cylinder(d, 0.3*d)
		m.vee(d)
		m.cylinder(d, 0.3*d)
	case 3:
		m.fillet(d * 0.9)
		m.bead(d*0.92, w)
		m.fillet(d * 0.9)
		m.cove(d*0.86, 1.7*w)
		m.fillet(d * 0.86)
		m.bead(d*0.88, 0.8*w)
		m.fillet(d * 0.86)
	}
}

// long adds a long part from about d0 to d1.
func (m *maker) long(d0, d1 float64) {
	l := m.in(2.5, 7) * m.big
	switch m.IntN(4) {
	case 0:
		m.taper(d0, d1, l)
	case 1:
		m.swell(d0, d0*m.in(0.8, 1), l)
	case 2:
		m.ogee(d1, d0, l/3)
		m.taper(d0*0.97, d1, l)
	case 3:
		m.quarterArc(true, d0, 0.75*d0, 0.25*d0)
		m.swell(0.75*d0, 0.75*d0, l)
		m.quarterArc(true, 0.75*d0, d0, 0.25*d0)
	}
}

// plausible returns a random turning.
func plausible(rng *rand.Rand) profile.Pattern {
	m := &maker{Rand: rng}
	m.big = m.in(18, 55)
	side := m.big * m.in(1.15, 1.25) // nothing turned is larger than its blank
	squares := rng.IntN(2) == 0
	if squares {
		m.square(side, side*m.in(0.8, 0.9), true)
	} else {
		m.cylinder(0.55*m.big, m.in(0.8, 1.5)*0.55*m.big)
	}
	for range 1 + rng.IntN(2) {
		m.group(m.big * m.in(0.7, 0.8))
		m.long(m.big*m.in(0.85, 1), m.big*m.in(0.5, 0.7))
	}
	m.group(m.big * m.in(0.72, 0.8))
	if squares && rng.IntN(2) == 0 {
		m.square(side, side*m.in(0.8, 0.9), false)
	} else {
		m.cylinder(0.5*m.big, m.in(0.8, 1.5)*0.5*m.big)
	}
	return profile.Pattern{Length: m.x, Elements: m.out}
}

// traced samples a pattern as a camera would: along the meridian every step mm, walls included, squares face on,
// with noise across the meridian.
func traced(p profile.Pattern, step, sigma float64, rng *rand.Rand) profile.Trace {
	t := profile.Trace{Length: p.Length}
	put := func(x, r, nx, nr float64) {
		e := sigma * rng.NormFloat64()
		t.Samples = append(t.Samples, profile.Sample{X: x + e*nx, R: r + e*nr, State: profile.Visible, U: 2 * sigma})
	}
	lastX, lastR := 0.0, -1.0
	for _, e := range p.Elements {
		for _, s := range e.Segments() {
			n := max(2, int(math.Hypot(s.Chord(), 2*s.Sagitta)/step))
			for i := range n + 1 {
				x, r := along(s, float64(i)/float64(n))
				if e.Kind == profile.Shoulder {
					r = math.Min(r, e.Side/2)
				}
				if i == 0 && lastR >= 0 {
					for q := 1; q < int(math.Abs(r-lastR)/step); q++ {
						put(lastX, lastR+(r-lastR)*float64(q)*step/math.Abs(r-lastR), 1, 0)
					}
				}
				slope := math.Atan(s.Slope(x))
				put(x, r, -math.Sin(slope), math.Cos(slope))
				lastX, lastR = x, r
			}
		}
	}
	return t
}

// along returns the point of a segment at a share of its angle or length.
func along(s profile.Segment, w float64) (x, r float64) {
	cx, cr, ok := s.Centre()
	if !ok {
		return s.X0 + w*(s.X1-s.X0), s.R0 + w*(s.R1-s.R0)
	}
	a0, a1 := math.Atan2(s.R0-cr, s.X0-cx), math.Atan2(s.R1-cr, s.X1-cx)
	if s.Sagitta > 0 && a1 > a0 {
		a1 -= 2 * math.Pi
	}
	if s.Sagitta < 0 && a1 < a0 {
		a1 += 2 * math.Pi
	}
	a := a0 + w*(a1-a0)
	x = cx + s.Radius()*math.Cos(a)
	return x, cr + s.Radius()*math.Sin(a)
}
