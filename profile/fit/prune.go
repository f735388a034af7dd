package fit

import "math"

// leastWall is the length up to which a steep line is the face of a step, mm: sharp steps that the trace smeared
// close up to this when they are fitted in the picture.
const leastWall = 0.5

// prune takes out the lines that turned out to be the faces of steps; ok is false where there are none.
func (f *fitted) prune() (c chain, t ties, ok bool) {
	c, t = f.clone(), f.ties
	for k := len(c.links) - 2; k > 0; k-- {
		s := c.segment(k)
		_, isShoulder := t.shoulder(k)
		if c.links[k].form != straight || isShoulder || s.X1-s.X0 > leastWall || math.Abs(s.R1-s.R0) < s.X1-s.X0 {
			continue
		}
		c.drop(k)
		t = t.without(k)
		ok = true
	}
	return c, t, ok
}

// drop replaces link k by a step in its middle.
func (c *chain) drop(k int) {
	a, b := c.joints[k], c.joints[k+1]
	a.x, a.after, a.hi = (a.x+b.x)/2, b.after, b.hi
	if a.before == a.after {
		a.after += leastStep
	}
	c.joints = append(append(append([]joint(nil), c.joints[:k]...), a), c.joints[k+2:]...)
	c.links = append(append([]link(nil), c.links[:k]...), c.links[k+1:]...)
}

// without returns the ties of a chain without link k.
func (t ties) without(k int) ties {
	cut := func(v []bool) []bool { return append(append([]bool(nil), v[:k]...), v[k+1:]...) }
	out := ties{level: cut(t.level), rims: cut(t.rims), square: cut(t.square), roll: t.roll}
	for _, s := range t.shoulders {
		if s.link > k {
			s.link--
		}
		if s.square > k {
			s.square--
		}
		out.shoulders = append(out.shoulders, s)
	}
	return out
}
