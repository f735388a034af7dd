package fit

import "math"

// prune takes out the lines that turned out to be the faces of steps: sharp steps that the trace smeared close up
// when they are fitted in the picture. Slivers go with them. It judges anew what is level.
func (f *fitted) prune() (chain, ties) {
	c, t := f.clone(), f.ties
	t.level = append([]bool(nil), t.level...)
	for k := range c.links {
		_, isShoulder := t.shoulder(k)
		t.level[k] = t.level[k] || !isShoulder && f.level(k)
	}
	for k := len(c.links) - 2; k > 0; k-- {
		s := c.segment(k)
		_, isShoulder := t.shoulder(k)
		if s.X1-s.X0 < sliver && !isShoulder && !c.vee(k-1) && !c.vee(k) && !c.links[k].bound() && !c.links[k+1].bound() {
			c.drop(k)
			t = t.without(k)
			continue
		}
		if c.links[k].form != straight || isShoulder || c.vee(k-1) || c.vee(k) || s.X1-s.X0 > leastShape || math.Abs(s.R1-s.R0) < (s.X1-s.X0)/2 {
			continue
		}
		c.drop(k)
		t = t.without(k)
	}
	return c, t
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

// sliver is the length under which a link is what is left of a corner, mm.
const sliver = 0.2

// stub reports whether link k is too short to be the slope or hollow that it looks like. What stands between two
// near rims is half hidden by them; a turner leaves a fillet there.
func (c *chain) stub(k int) bool {
	s := c.segment(k)
	if k == 0 || k == len(c.links)-1 || c.links[k].form == quarter || c.links[k].bound() || s.Sagitta > 0 || c.vee(k-1) || c.vee(k) {
		return false
	}
	return s.X1-s.X0 < filletLimit(s.R0+s.R1)
}
