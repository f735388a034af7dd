package fit

import (
	"math"

	"spindlestick/profile"
)

// Limits of the judgement of shapes. Angles in radians.
const (
	// certain is how many standard deviations a departure must show before a shape counts as not what a turner
	// would cut: level runs level, quarter rounds that leave level, ogees without a corner.
	certain = 3
	// levelAngle is the slope under which a run is called level whatever its length: 0.35 degrees, 0.6 mm of
	// diameter over 50 mm, under any taper that is turned on purpose (the slightest of the taper tables that
	// turners use, 1/4 inch a foot, has 0.6 degrees a side).
	levelAngle = 0.0061
	// levelRise is the most that the radius of a level run may seem to change from end to end, mm: calipers that differ by
	// 0.3 mm between its ends say that it tapers, however long it is and however little the fit is sure.
	levelRise = 0.15
	// unsureLevel is the largest slope that noise alone may excuse.
	unsureLevel = 0.07
	// shortLevel is the slope under which a run as short as a fillet is one: nobody turns a taper of a few
	// millimetres, and blurred corners tilt a short run by this much.
	shortLevel = 0.15
	// crestAngle is the slope at the end of a half bead or cove that still counts as its crest.
	crestAngle = 0.03
	// unsureCrest is the largest that noise alone may excuse.
	unsureCrest = 0.12
	// halfShare: an arc whose slope at one end is under this share of that at the other is half a bead or cove.
	halfShare = 0.2
	// kink is the corner, radians, that still counts as tangent between the arcs of an ogee: six degrees, which the eye
	// takes for smooth.
	kink = 0.1
	// veeWall is the least slope of a vee's wall: 130 degrees included.
	veeWall = 0.436
)

// sd returns the standard deviation of a number of the chain that depends on links a to b.
func (f *fitted) sd(a, b int, q func(*chain) float64) float64 {
	const h = 1e-6
	n := f.layout.n
	c := f.clone()
	p := f.layout.pack(&c)
	grad := map[int]float64{}
	for i, t := range f.layout.touch {
		if t[1] < a || t[0] > b {
			continue
		}
		v := p[i]
		p[i] = v + h
		f.layout.unpack(p, &c)
		up := q(&c)
		p[i] = v - h
		f.layout.unpack(p, &c)
		grad[i] = (up - q(&c)) / (2 * h)
		p[i] = v
		f.layout.unpack(p, &c)
	}
	sum := 0.0
	for i, gi := range grad {
		for j, gj := range grad {
			sum += gi * gj * f.covariance[i*n+j]
		}
	}
	return math.Sqrt(math.Max(0, sum))
}

// level reports whether link k is a level run.
func (f *fitted) level(k int) bool {
	if f.links[k].form != straight {
		return false
	}
	if f.links[k].unseen {
		return true
	}
	slope := func(c *chain) float64 { return chordAngle(c.segment(k)) }
	a, s := math.Abs(slope(&f.chain)), f.segment(k)
	if s.X1-s.X0 < filletLimit(s.R0+s.R1) && a < shortLevel {
		return true
	}
	if math.Abs(s.R1-s.R0) > levelRise {
		return false
	}
	return a < levelAngle || a < unsureLevel && a < certain*f.sd(k, k, slope)
}

// arcShape is how an arc stands to its crest or bottom.
type arcShape int

const (
	whole   arcShape = iota // the crest lies inside
	half0                   // it lies at or before the start
	half1                   // at or beyond the end
	neither                 // a line
)

// arcShape judges link k by the slopes at its ends.
func (c *chain) arcShape(k int) arcShape {
	if c.links[k].form == straight {
		return neither
	}
	s := c.segment(k)
	a, b := startAngle(s), -endAngle(s)
	if s.Sagitta < 0 {
		a, b = -a, -b
	}
	switch {
	case a < halfShare*b:
		return half0
	case b < halfShare*a:
		return half1
	}
	return whole
}

// crest reports whether the arc of link k is horizontal, for all one can tell, at its start (end = false) or end.
func (f *fitted) crest(k int, end bool) bool {
	q := func(c *chain) float64 {
		if end {
			return endAngle(c.segment(k))
		}
		return startAngle(c.segment(k))
	}
	a := math.Abs(q(&f.chain))
	return a < crestAngle || a < unsureCrest && a < certain*f.sd(k, k, q)
}

// ogee reports whether links k and k+1 are the two arcs of an ogee.
func (f *fitted) ogee(k int) bool {
	if k+1 >= len(f.links) || f.joints[k+1].step() {
		return false
	}
	a, b := f.segment(k), f.segment(k+1)
	if a.Straight() || b.Straight() || a.Sagitta*b.Sagitta > 0 || (a.R1-a.R0)*(b.R1-b.R0) < 0 {
		return false
	}
	if f.arcShape(k) == whole || f.arcShape(k+1) == whole {
		return false
	}
	q := func(c *chain) float64 { return startAngle(c.segment(k+1)) - endAngle(c.segment(k)) }
	d := math.Abs(q(&f.chain))
	return d < kink || d < 2*kink && d < certain*f.sd(k, k+1, q)
}

// tieOgees makes the second arc of every ogee that is not tied yet follow the first without a corner.
func (f *fitted) tieOgees() {
	for k := 0; k+1 < len(f.links); k++ {
		_, a := f.ties.shoulder(k)
		_, b := f.ties.shoulder(k + 1)
		if a || b || f.links[k].bound() || f.links[k+1].bound() || !f.ogee(k) {
			continue
		}
		f.links[k+1].form = follows
	}
}

// vee reports whether links k and k+1 are the walls of a vee.
func (c *chain) vee(k int) bool {
	if k+1 >= len(c.links) || c.joints[k+1].step() {
		return false
	}
	a, b := c.segment(k), c.segment(k+1)
	return a.Straight() && b.Straight() && chordAngle(a) < -veeWall && chordAngle(b) > veeWall
}

// evenVee reports whether links k and k+1 are a vee whose rims are, for all one can tell, equal. A tie then keeps
// a rim from sliding along a neighbour of nearly the same slope.
func (f *fitted) evenVee(k int) bool {
	if !f.vee(k) {
		return false
	}
	q := func(c *chain) float64 { return c.joints[k+2].before - c.joints[k].after }
	return math.Abs(q(&f.chain)) < certain*f.sd(k, k+1, q)
}

// tie returns the chain with the ties that its shapes ask for.
func (f *fitted) tie(tgt *target) (chain, ties) {
	c, t := f.clone(), noTies(&f.chain)
	for k := range f.links {
		t.level[k] = f.level(k)
		t.rims[k] = k > 0 && f.evenVee(k-1)
	}
	t.square, t.shoulders = f.squares(t, tgt)
	for k := range f.links {
		if s, ok := t.shoulder(k); ok {
			c.links[k].convex = false
			tgt.rim(&c, s)
			if at := s.form(); at == quarter || at == straight || !c.level(k, at) {
				c.links[k].form = at
			}
			continue
		}
		f.tieArc(&c, k)
	}
	return c, t
}

// form is the tie of a shoulder's visible link.
func (s shoulder) form() form {
	switch {
	case s.style == profile.Quarter:
		return quarter
	case s.style == profile.Straight:
		return straight
	case s.link > s.square:
		return crestAt1
	}
	return crestAt0
}

// tieArc sets the form of link k of c.
func (f *fitted) tieArc(c *chain, k int) {
	l := &c.links[k]
	if l.form == straight {
		return
	}
	l.convex = f.segment(k).Sagitta > 0
	if k > 0 && !c.links[k-1].bound() && f.ogee(k-1) {
		l.form = follows
		return
	}
	switch shape := f.arcShape(k); {
	case shape == half0 && f.crest(k, false):
		c.level(k, crestAt0)
	case shape == half1 && f.crest(k, true):
		c.level(k, crestAt1)
	}
}
