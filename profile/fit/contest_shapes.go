package fit

import "math"

// window returns the links that take part in a candidate's refinement. A shoulder and its square go together, and
// so do the arcs of an ogee and the walls of a vee.
func (c candidate) window() (from, to int) {
	from, to = max(0, c.from-flank), min(len(c.chain.links)-1, c.to+flank)
	for _, s := range c.ties.shoulders {
		a, b := min(s.link, s.square), max(s.link, s.square)
		if a < from && b >= from {
			from = a
		}
		if b > to && a <= to {
			to = b
		}
	}
	for from > 0 && (c.chain.links[from].form == follows || c.ties.rims[from]) {
		from--
	}
	return from, to
}

// refinePart refines the place that a candidate changes with its neighbours, the picture being of that place.
func (p *picture) refinePart(c candidate) (fitted, error) {
	from, to := c.window()
	sub := chain{joints: append([]joint(nil), c.chain.joints[from:to+2]...), links: append([]link(nil), c.chain.links[from:to+1]...)}
	g, err := p.refine(sub, c.ties.part(from, to), contestIterations)
	if err != nil {
		return g, err
	}
	whole := c.chain.clone()
	keepFirst, keepLast := whole.joints[from], whole.joints[to+1]
	copy(whole.joints[from:], g.joints)
	copy(whole.links[from:], g.links)
	whole.joints[from].rejoin(keepFirst, true)
	whole.joints[to+1].rejoin(keepLast, false)
	g.chain = whole
	return g, nil
}

// rejoin fits a refined outer joint to what stands beyond it: a corner stays one.
func (j *joint) rejoin(old joint, first bool) {
	switch {
	case !old.step() && first:
		j.before = j.after
	case !old.step():
		j.after = j.before
	case first:
		j.before = old.before
	default:
		j.after = old.after
	}
}

// levelled returns the chain with link k, short and hollow or aslant, as a level run between steps: two rims that
// stand close hide a fillet's ends, and what is left of it may look like anything.
func (f *fitted) levelled(k int) (chain, ties, bool) {
	s := f.segment(k)
	form := f.links[k].form
	tied := form != straight && form != free || f.ties.level[k] || f.ties.rims[k] || k+1 < len(f.links) && f.ties.rims[k+1]
	if s.Sagitta > 0 || tied || k == 0 || k == len(f.links)-1 || s.X1-s.X0 > 1.5*filletLimit(s.R0+s.R1) {
		return chain{}, ties{}, false
	}
	c, t := f.clone(), f.ties
	c.flatten(k)
	t.level = append([]bool(nil), t.level...)
	t.level[k] = true
	return c, t, true
}

// walled returns the chain with the wall that link k, a steep line beside a step, lacks to be a vee.
func (f *fitted) walled(k int) (chain, ties, bool) {
	s := f.segment(k)
	if !s.Straight() || math.Abs(chordAngle(s)) < veeWall || k == 0 || k == len(f.links)-1 {
		return chain{}, ties{}, false
	}
	down := s.R1 < s.R0
	at := k + 1 // the joint with the step
	if !down {
		at = k
	}
	if !f.joints[at].step() {
		return chain{}, ties{}, false
	}
	rim := f.joints[at].after
	if !down {
		rim = f.joints[at].before
	}
	mid := (s.X0 + s.X1) / 2
	bottom := joint{x: mid, before: s.At(mid), after: s.At(mid), lo: mid, hi: mid}
	c := f.clone()
	c.joints[at].before, c.joints[at].after = rim, rim
	return c.insert(k, bottom), f.ties.with(k), true
}

// insert parts link k at a new joint.
func (c *chain) insert(k int, j joint) chain {
	out := chain{}
	out.joints = append(append(append(out.joints, c.joints[:k+1]...), j), c.joints[k+1:]...)
	out.links = append(append(append(out.links, c.links[:k+1]...), c.links[k]), c.links[k+1:]...)
	middle := (c.links[k].i + c.links[k].j) / 2
	out.links[k].j, out.links[k+1].i = middle, middle
	return out
}

// with returns the ties of a chain whose link k is parted in two.
func (t ties) with(k int) ties {
	add := func(v []bool) []bool {
		return append(append(append([]bool(nil), v[:k+1]...), false), v[k+1:]...)
	}
	out := ties{level: add(t.level), rims: add(t.rims), square: add(t.square), roll: t.roll}
	for _, s := range t.shoulders {
		if s.link > k {
			s.link++
		}
		if s.square > k {
			s.square++
		}
		out.shoulders = append(out.shoulders, s)
	}
	return out
}
