package fit

import (
	"math"

	"spindlestick/profile"
)

// form says how the height of a link's arc is found.
type form int

const (
	straight form = iota
	free          // the sagitta is a parameter
	crestAt0      // horizontal where it starts
	crestAt1      // horizontal where it ends
	follows       // tangent to the link before
	sweeps        // so, and level at its end, as the link before is at its start: they meet on the line between those ends
	quarter       // the visible part of a quarter shoulder
)

// link is one primitive of the meridian, between joints k and k+1.
type link struct {
	form    form
	sagitta float64 // used when free
	convex  bool    // the sign of a tied arc
	i, j    int     // its points
	unseen  bool    // no sample carries it: it is there because a fillet must be
}

// bound reports whether the link's shape depends on the link before.
func (l link) bound() bool { return l.form == follows || l.form == sweeps }

// joint is where two links meet. Their radii differ at a step.
type joint struct {
	x             float64
	before, after float64
	lo, hi        float64 // the last and first sample beside it
}

// step reports whether the radii differ.
func (j joint) step() bool { return j.before != j.after }

// chain is a meridian as a row of links.
type chain struct {
	joints []joint
	links  []link
}

// segment returns link k as a primitive.
func (c *chain) segment(k int) profile.Segment {
	a, b := c.joints[k], c.joints[k+1]
	s := profile.Segment{X0: a.x, R0: a.after, X1: b.x, R1: b.before}
	l := c.links[k]
	switch l.form {
	case free:
		s.Sagitta = l.sagitta
	case crestAt0, crestAt1:
		s.Sagitta = levelSagitta(s, l.convex)
	case quarter:
		s.Sagitta = quarterSagitta(s)
	case follows, sweeps:
		s.Sagitta = tangentSagitta(c.segment(k-1), s)
	}
	return s
}

// settle puts the joints inside ogees that sweep from level to level onto the line between their ends.
func (c *chain) settle() {
	for k, l := range c.links {
		if l.form != sweeps || k == 0 {
			continue
		}
		a, j, b := c.joints[k-1], &c.joints[k], c.joints[k+1]
		j.before = a.after + (j.x-a.x)/(b.x-a.x)*(b.before-a.after)
		j.after = j.before
	}
}

// levelSagitta is the height of the arc that is horizontal at one end of the chord: there tangent and chord
// differ by half the angle the arc subtends, so h = c/2 tan(|chord angle|/2).
func levelSagitta(s profile.Segment, convex bool) float64 {
	h := s.Chord() / 2 * math.Tan(math.Abs(math.Atan2(s.R1-s.R0, s.X1-s.X0))/2)
	if convex {
		return h
	}
	return -h
}

// tangentSagitta is the height that gives s the direction in which a ends.
func tangentSagitta(a, s profile.Segment) float64 {
	half := endAngle(a) - chordAngle(s)
	return s.Chord() / 2 * math.Tan(half/2)
}

func chordAngle(s profile.Segment) float64 { return math.Atan2(s.R1-s.R0, s.X1-s.X0) }

// startAngle and endAngle are the directions of the meridian at the ends of a segment, radians: an arc's
// tangent and chord differ by half the angle it subtends.
func startAngle(s profile.Segment) float64 { return chordAngle(s) + halfAngle(s) }
func endAngle(s profile.Segment) float64   { return chordAngle(s) - halfAngle(s) }

func halfAngle(s profile.Segment) float64 {
	c := s.Chord()
	if c == 0 {
		return 0
	}
	h := math.Max(-c/2, math.Min(c/2, s.Sagitta))
	return 2 * math.Atan(2*h/c)
}

// span returns the length of link k along the axis, mm.
func (c *chain) span(k int) float64 { return c.joints[k+1].x - c.joints[k].x }

// quarterTurn is how steep the chord of an arc that is level at one end may be: at 45 degrees it is a quarter of a
// circle, and beyond that it would turn back over its own end. The excess is for rounding.
const quarterTurn = 1 + 1e-6

// ordered reports whether links a to b are in order and outside the axis.
func (c *chain) ordered(a, b int) bool {
	for k := a; k <= b; k++ {
		p, q := c.joints[k], c.joints[k+1]
		if q.x-p.x < leastSpan/2 || p.after < 0 || q.before < 0 {
			return false
		}
	}
	return true
}

// sound reports whether links a to b are in order, outside the axis, and can be turned.
func (c *chain) sound(a, b int) bool {
	if !c.ordered(a, b) {
		return false
	}
	for k := a; k <= b; k++ {
		p, q := c.joints[k], c.joints[k+1]
		tied := c.links[k].form == crestAt0 || c.links[k].form == crestAt1
		if tied && math.Abs(q.before-p.after) > quarterTurn*(q.x-p.x) {
			return false
		}
	}
	return true
}

// level ties the arc of link k to be horizontal at its start or end, and moves that end away where the arc would
// be more than a quarter of a circle; false where the neighbour leaves no room.
func (c *chain) level(k int, at form) bool {
	p, q := &c.joints[k], &c.joints[k+1]
	rise := math.Abs(q.before - p.after)
	was := c.links[k].form
	c.links[k].form = at
	switch {
	case rise <= q.x-p.x:
		return true
	case at == crestAt0 && k > 0 && q.x-rise > c.joints[k-1].x+leastSpan:
		p.x = q.x - rise
		return true
	case at == crestAt1 && k+2 < len(c.joints) && p.x+rise < c.joints[k+2].x-leastSpan:
		q.x = p.x + rise
		return true
	}
	c.links[k].form = was
	return false
}
