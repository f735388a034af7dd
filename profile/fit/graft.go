package fit

import "math"

// graft is what takes the place of some links of a chain: links with the joints between them.
type graft struct {
	links      []link
	joints     []joint // one fewer than links
	level      []bool
	square     []bool     // which links are squares; nil = none
	shoulders  []shoulder // among the links; nil leaves those that there are
	start, end float64    // radii at its outer ends
	x0, x1     float64    // stations of its outer ends
}

// graft returns the chain and ties with links a to b replaced.
func (c *chain) graft(t ties, a, b int, g graft) (chain, ties) {
	out := chain{}
	out.joints = append(append(append(out.joints, c.joints[:a+1]...), g.joints...), c.joints[b+1:]...)
	out.links = append(append(append(out.links, c.links[:a]...), g.links...), c.links[b+1:]...)
	p, q := &out.joints[a], &out.joints[a+len(g.links)]
	p.meet(g.x0, p.before, g.start, a == 0, false)
	q.meet(g.x1, g.end, q.after, false, a+len(g.links) == len(out.links))
	out.settle()
	return out, t.graft(a, b, g)
}

// meet sets the radii of a joint, closed where they nearly agree.
func (j *joint) meet(x, before, after float64, first, last bool) {
	switch {
	case first:
		before = after
	case last:
		after = before
	case math.Abs(before-after) < leastStep:
		before = (before + after) / 2
		after = before
	}
	j.x, j.before, j.after = x, before, after
}

// graft returns the ties of a chain with links a to b replaced.
func (t ties) graft(a, b int, g graft) ties {
	put := func(v, in []bool) []bool {
		return append(append(append([]bool(nil), v[:a]...), in...), v[b+1:]...)
	}
	none, square := make([]bool, len(g.level)), g.square
	if square == nil {
		square = none
	}
	out := ties{level: put(t.level, g.level), rims: put(t.rims, none), square: put(t.square, square), roll: t.roll}
	d := len(g.level) - (b - a + 1)
	for _, s := range t.shoulders {
		if g.shoulders != nil && s.link >= a && s.link <= b {
			continue
		}
		if s.link > b || s.link == b && b > a { // a shoulder is only ever the last link replaced, or the first
			s.link += d
		}
		if s.square > b || s.square == b && b > a {
			s.square += d
		}
		out.shoulders = append(out.shoulders, s)
	}
	for _, s := range g.shoulders {
		out.shoulders = append(out.shoulders, shoulder{link: s.link + a, square: s.square + a, style: s.style})
	}
	return out
}

// loose reports whether the joint before link k may be replaced: it lies inside no ogee and no tied vee.
func (f *fitted) loose(k int) bool {
	return k >= len(f.links) || !f.links[k].bound() && !f.ties.rims[k]
}

// movable reports whether links a to b may be replaced: squares and their shoulders may not, nor may half of an
// ogee or of a tied vee.
func (f *fitted) movable(a, b int) bool {
	if a < 0 || b >= len(f.links) {
		return false
	}
	for k := a; k <= b; k++ {
		if _, s := f.ties.shoulder(k); s || f.ties.square[k] {
			return false
		}
	}
	return f.loose(a) && f.loose(b+1)
}
