package fit

import (
	"math"
	"sort"
)

// Limits of the contest of shapes in the picture.
const (
	// doubtful is the evidence against a link, over what its points should leave, from which other shapes are tried.
	doubtful = 12.0
	// contestIterations let a candidate settle far enough to be compared.
	contestIterations = 7
	// flank is how many links beside the changed ones take part in a candidate's refinement.
	flank = 1
	// rounds of the contest: what one round mends may show the next what is wrong beside it.
	contestRounds = 3
	// gain is how much shorter a description must be to be taken.
	gain = 2.0
)

// contest lets other shapes compete wherever the picture does not agree with the chain, and simpler ones everywhere:
// the one with the shortest description stays. The covariance of what it returns is no longer that of the chain:
// refine it again.
func (p *picture) contest(f fitted) fitted {
	for range contestRounds {
		changed := false
		for k := 0; k < len(f.links); k++ {
			if g, ok := p.settle(f, p.simpler(&f, k)); ok {
				f, changed = g, true
				k = max(-1, k-2)
				continue
			}
			if p.doubt(&f, k) < doubtful {
				continue
			}
			if g, ok := p.settle(f, p.others(&f, k)); ok {
				f, changed = g, true
			}
		}
		if !changed {
			break
		}
	}
	return f
}

// simpler are the shapes with fewer numbers that may take the place of link k and the one after it.
func (p *picture) simpler(f *fitted, k int) []move {
	if k+1 >= len(f.links) || !p.alike(f, k) {
		return nil
	}
	return f.merges(k, k+1)
}

// alike reports whether links k and k+1 may be one: neither stands off the other by what can be seen from afar.
func (p *picture) alike(f *fitted, k int) bool {
	a, b, j := f.segment(k), f.segment(k+1), f.joints[k+1]
	if math.Min(a.X1-a.X0, b.X1-b.X0) < leastShape {
		return true
	}
	step := math.Abs(j.before - j.after)
	return step < 4*leastStep && math.Abs(startAngle(b)-endAngle(a)) < smoothKink && a.Sagitta*b.Sagitta >= 0
}

// others are the shapes that link k, with its neighbours, may have instead.
func (p *picture) others(f *fitted, k int) []move {
	out := p.fillets(f, k)
	for n := range 3 {
		out = append(out, p.vees(f, k, k+n)...)
		if n > 0 {
			out = append(out, p.vees(f, k-n, k)...)
		}
	}
	out = append(out, f.splits(k)...)
	out = append(out, p.inserts(f, k)...)
	out = append(out, p.inserts(f, k+1)...)
	out = append(out, f.rounds(k)...)
	out = append(out, f.closes(k)...)
	out = append(out, f.closes(k+1)...)
	for _, a := range []int{k - 1, k} {
		if a >= 0 && a+1 < len(f.links) {
			out = append(out, f.merges(a, a+1)...)
		}
	}
	return out
}

// doubt is the evidence against link k beyond what its points leave by chance.
func (p *picture) doubt(f *fitted, k int) float64 {
	part := p.between(f.joints[k].x-1, f.joints[k+1].x+1)
	if len(part.points) == 0 {
		return 0
	}
	w := newExposure(part, f.chain, f.ties)
	r := make([]float64, len(part.points))
	w.residuals(nil, r)
	return w.evidence(r) - float64(len(part.points))*chance
}

// chance is the mean squared innovation of a point when the chain is right: the filter's own and the grain's deviations are
// taken at their floors, which most photographs stay under.
const chance = 0.6

// between returns the part of a picture between two stations.
func (p *picture) between(lo, hi float64) *picture {
	i := sort.Search(len(p.points), func(i int) bool { return p.points[i].station >= lo })
	j := sort.Search(len(p.points), func(j int) bool { return p.points[j].station > hi })
	return &picture{Projector: p.Projector, points: p.points[i:max(i, j)], trace: p.trace, grain: p.grain}
}

// settle returns f after the best of the moves, and whether one was taken.
func (p *picture) settle(f fitted, moves []move) (fitted, bool) {
	if len(moves) == 0 {
		return f, false
	}
	a, b := moves[0].a, moves[0].b
	for _, m := range moves {
		a, b = min(a, m.a), max(b, m.b)
	}
	from, to := f.window(a, b)
	lo, hi := f.joints[from].x, f.joints[to+1].x
	part := p.between(lo, hi)
	if len(part.points) == 0 {
		return f, false
	}
	each := math.Log(float64(len(p.points)))
	now, least, ok := part.compare(f.chain, f.ties, from, to, each)
	if !ok {
		return f, false
	}
	least -= gain
	best, found := now, false
	for _, m := range moves {
		c, t := f.graft(f.ties, m.a, m.b, m.graft)
		d := len(m.links) - (m.b - m.a + 1)
		g, cost, ok := part.compare(c, t, from, to+d, each)
		if ok && cost < least {
			best, least, found = g, cost, true
		}
	}
	return best, found
}

// compare refines links from to to and returns what they then cost.
func (p *picture) compare(c chain, t ties, from, to int, each float64) (fitted, float64, bool) {
	if !c.sound(0, len(c.links)-1) {
		return fitted{}, 0, false
	}
	g, err := p.refinePart(c, t, contestIterations, from, to)
	if err != nil || !g.sound(from, to) {
		return g, 0, false
	}
	return g, p.weigh(&g.chain, t, each) + p.implausible(&g), true
}

// window returns the links that take part when links a to b change: squares with their shoulders, the arcs of an
// ogee and the walls of a tied vee whole.
func (f *fitted) window(a, b int) (from, to int) {
	from, to = max(0, a-flank), min(len(f.links)-1, b+flank)
	for _, s := range f.ties.shoulders {
		p, q := min(s.link, s.square), max(s.link, s.square)
		if p < from && q >= from {
			from = p
		}
		if q > to && p <= to {
			to = q
		}
	}
	for from > 0 && (f.links[from].form == follows || f.ties.rims[from]) {
		from--
	}
	for to+1 < len(f.links) && (f.links[to+1].form == follows || f.ties.rims[to+1]) {
		to++
	}
	return from, to
}

// oddity is the description length of a shape that no turner cuts: a slope or hollow as short as a fillet.
const oddity = 8

// implausible is what the links of f that no turner cuts add to its description.
func (p *picture) implausible(f *fitted) float64 {
	sum := 0.0
	for k := range f.links {
		if _, s := f.ties.shoulder(k); !s && !f.ties.level[k] && f.stub(k) {
			sum += oddity
		}
	}
	return sum
}
