package fit

import "math"

// smoothKink is the corner under which a joint with an arc may hide where it really lies, radians: near a crest
// the arc and what follows it run along one another.
const smoothKink = 0.35

// compete lets alternative shapes of the smooth joints compete: each is refined by itself with its neighbours,
// and the one with the least cost, numbers charged at ln n each, stays.
func (t *target) compete(c chain, tie ties) chain {
	for k := 1; k < len(c.links); k++ {
		_, shoulderA := tie.shoulder(k - 1)
		_, shoulderB := tie.shoulder(k)
		if shoulderA || shoulderB {
			continue
		}
		a, b := c.segment(k-1), c.segment(k)
		if a.Straight() && b.Straight() || math.Abs(startAngle(b)-endAngle(a)) > smoothKink {
			continue
		}
		t.best(&c, tie, k)
	}
	return c
}

// best gives joint k and the links beside it the cheapest of their alternative shapes.
func (t *target) best(c *chain, tie ties, k int) {
	from, to := max(0, k-2), min(len(c.links)-1, k+1)
	if c.links[from].bound() || tie.rims[from] {
		from--
	}
	ln := math.Log(float64(len(t.pts)))
	least := math.Inf(1)
	var winner fitted
	for _, alt := range alternatives(c, k) {
		f, err := t.part(&alt, tie, from, to)
		if err != nil {
			continue
		}
		if cost := f.cost + ln*float64(f.layout.n); cost < least {
			least, winner = cost, f
		}
	}
	if math.IsInf(least, 1) {
		return
	}
	lo, hi := c.joints[k].lo, c.joints[k].hi
	c.joints[k] = winner.joints[k-from]
	c.joints[k].lo, c.joints[k].hi = lo, hi
	for _, l := range []int{k - 1, k} {
		w := winner.links[l-from]
		c.links[l].form, c.links[l].sagitta, c.links[l].convex = w.form, w.sagitta, w.convex
	}
}

// part refines links from to to of a chain by themselves, their outer joints' stations held.
func (t *target) part(c *chain, tie ties, from, to int) (fitted, error) {
	first, last := c.links[from].i, len(t.pts)
	if to+1 < len(c.links) {
		last = c.links[to+1].i
	}
	s := chain{joints: append([]joint(nil), c.joints[from:to+2]...), links: append([]link(nil), c.links[from:to+1]...)}
	for i := range s.links {
		s.links[i].i -= first
		s.links[i].j -= first
	}
	sub := &target{pts: t.pts[first:last], sigma: t.sigma, root: t.root[first:last]}
	for _, o := range t.owner[first:last] {
		sub.owner = append(sub.owner, o-from)
	}
	return sub.refine(s, tie.part(from, to), roughIterations)
}

// alternatives returns chains that differ from c in the shape of joint k.
func alternatives(c *chain, k int) []chain {
	out := []chain{c.clone()}
	if c.joints[k].step() {
		out = append(out, closed(c, k))
	}
	for _, l := range []int{k - 1, k} {
		m, ok := crested(c, k, l)
		if !ok {
			continue
		}
		out = append(out, m, closed(&m, k))
	}
	return out
}

// closed returns c with no step at joint k.
func closed(c *chain, k int) chain {
	m := c.clone()
	j := &m.joints[k]
	r := (j.before + j.after) / 2
	j.before, j.after = r, r
	return m
}

// crested returns c with joint k at the crest or bottom of link l, and a step there; false where that lies
// outside the two links or the link is no free arc.
func crested(c *chain, k, l int) (chain, bool) {
	s := c.segment(l)
	x, r, ok := s.Centre()
	if !ok || c.links[l].bound() && l == k || x <= c.joints[k-1].x+leastSpan || x >= c.joints[k+1].x-leastSpan {
		return chain{}, false
	}
	r += math.Copysign(s.Radius(), s.Sagitta)
	m := c.clone()
	j := &m.joints[k]
	other := c.segment(2*k - 1 - l).At(x)
	link := &m.links[l]
	link.convex = s.Sagitta > 0
	j.x, j.before, j.after = x, r, other
	tied := crestAt1
	if l == k {
		tied = crestAt0
		j.before, j.after = other, r
	}
	if !link.bound() && !m.level(l, tied) {
		return chain{}, false
	}
	if j.before == j.after {
		j.after += leastStep / 2
	}
	return m, true
}
