package fit

import (
	"math"
	"runtime"
	"sort"
	"sync"

	"spindlestick/profile"
)

// Limits of the contest of shapes in the picture.
const (
	// doubtful is the evidence against a link, over what its points should leave, from which other shapes are tried.
	doubtful = 12.0
	// contestIterations let a candidate settle far enough to be compared.
	contestIterations = 6
	// firstIterations show whether it may ever win: hopeless is how far behind, over twice as much, one that may not is.
	firstIterations = 3
	hopeless        = 40.0
	// flank is how many links beside the changed ones take part in a candidate's refinement.
	flank = 1
	// flankReach is how far along a straight one the picture is looked at, mm; its far end is held.
	flankReach = 10.0
	// gain is how much shorter a description must be to be taken.
	gain = 2.0
)

// contest lets other shapes compete wherever the picture does not agree with the chain, and simpler ones everywhere:
// the one with the shortest description stays. The covariance of what it returns is no longer that of the chain:
// refine it again.
func (p *picture) contest(f fitted) fitted {
	p.usual(&f)
	tried := map[stand]bool{}
	left := mostChanges * len(f.links)
	for changed := true; changed && left > 0; {
		changed = false
		for k := 0; k < len(f.links) && left > 0; k++ {
			at := f.stand(k)
			if tried[at] {
				continue
			}
			tried[at] = true
			g, ok := p.better(f, k)
			if !ok {
				continue
			}
			f, changed = g, true
			left--
			k = max(-1, k-2)
			for n := k; n < k+5 && n < len(f.links); n++ {
				if n >= 0 {
					delete(tried, f.stand(n)) // what looked the same to a tenth of a millimetre may now be tied otherwise
				}
			}
		}
	}
	return f
}

// mostChanges bounds how often the contest changes a chain, for each of its links.
const mostChanges = 3

// better returns f with a better shape at link k, and whether there is one.
func (p *picture) better(f fitted, k int) (fitted, bool) {
	if g, ok := p.shoulder(f, k); ok {
		return g, true
	}
	// What looks odd is as likely a shape not recognised as one too many: all compete at once.
	if f.odd(k) > 0 {
		return p.settle(f, append(p.simpler(&f, k), p.others(&f, k)...))
	}
	if g, ok := p.settle(f, p.simpler(&f, k)); ok {
		return g, true
	}
	if p.doubt(&f, k) < doubtful {
		return f, false
	}
	return p.settle(f, p.others(&f, k))
}

// shoulder gives square k the shoulders that the picture asks for.
func (p *picture) shoulder(f fitted, k int) (fitted, bool) {
	if !f.ties.square[k] {
		return f, false
	}
	taken := false
	for _, step := range []int{-1, 1} {
		n := k + step
		if n < 0 || n >= len(f.links) {
			continue
		}
		if _, has := f.ties.shoulder(n); has && f.odd(n) == 0 && p.doubt(&f, n) < doubtful && (n+step < 0 || n+step >= len(f.links) || p.doubt(&f, n+step) < doubtful) {
			continue
		}
		for _, moves := range []func(*fitted, int, int) []move{p.pommels, restyled} {
			if g, ok := p.settle(f, moves(&f, k, step)); ok {
				if step < 0 {
					k += len(g.links) - len(f.links)
				}
				f, taken = g, true
			}
		}
	}
	return f, taken
}

// stand is where a link and its neighbours stand, to a tenth of a millimetre.
type stand [3]struct{ x0, x1, r0, r1, h int }

func (f *fitted) stand(k int) (at stand) {
	for i := range at {
		if n := k + i - 1; n >= 0 && n < len(f.links) {
			s := f.segment(n)
			q := func(v float64) int { return int(math.Round(10 * v)) }
			at[i].x0, at[i].x1, at[i].r0, at[i].r1, at[i].h = q(s.X0), q(s.X1), q(s.R0), q(s.R1), q(s.Sagitta)
		}
	}
	return at
}

// simpler are the shapes with fewer numbers that may take the place of link k and the one after it.
func (p *picture) simpler(f *fitted, k int) []move {
	out := append(append(f.drops(k), f.levels(k)...), f.sweeping(k)...)
	if k+1 < len(f.links) && p.alike(f, k) {
		for _, m := range f.merges(k, k+1) {
			if p.strays(f, m) < mostStray {
				out = append(out, m)
			}
		}
	}
	return out
}

// mostStray is how far, px, a simpler shape may start off the chain and still come to take its place.
const mostStray = 2.5

// strays is the mean distance, px, of a move's single link from the chain that it replaces.
func (p *picture) strays(f *fitted, m move) float64 {
	const n = 12
	s := profile.Segment{X0: m.x0, R0: m.start, X1: m.x1, R1: m.end, Sagitta: m.links[0].sagitta}
	sum := 0.0
	for i := range n {
		x := m.x0 + (m.x1-m.x0)*(float64(i)+0.5)/n
		sum += math.Abs(s.At(x) - f.radius(x))
	}
	return sum / n / p.MMPerPixel((m.x0+m.x1)/2)
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
	out := append(append(p.dents(f, k), f.seated(k)...), p.fillets(f, k)...)
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
	out = append(out, f.opens(k)...)
	out = append(out, f.opens(k+1)...)
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
	return w.evidence(r) - float64(len(part.points))*p.chance
}

// usual sets what a point costs by chance: a little more than it does in the best quarter of the links.
func (p *picture) usual(f *fitted) {
	var each []float64
	p.chance = 0
	for k := range f.links {
		part := p.between(f.joints[k].x-1, f.joints[k+1].x+1)
		if n := len(part.points); n > 0 {
			each = append(each, p.doubt(f, k)/float64(n))
		}
	}
	if len(each) > 0 {
		sort.Float64s(each)
		p.chance = math.Min(mostChance, chanceMargin*each[len(each)/4])
	}
}

// chanceMargin is the margin over what a point costs in a link that is right, and mostChance the most that is believed of
// one: the innovations of a filter that knows its noise have variance one, and neighbouring points are alike.
const (
	chanceMargin = 1.3
	mostChance   = 0.8
)

// between returns the part of a picture between two stations.
func (p *picture) between(lo, hi float64) *picture {
	i := sort.Search(len(p.points), func(i int) bool { return p.points[i].station >= lo })
	j := sort.Search(len(p.points), func(j int) bool { return p.points[j].station > hi })
	return &picture{Projector: p.Projector, points: p.points[i:max(i, j)], trace: p.trace, grain: p.grain, chance: p.chance}
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
	at := f.window(a, b)
	part := p.around(&f, at, a, b)
	if len(part.points) == 0 {
		return f, false
	}
	each := math.Log(float64(len(p.points)))
	now, least, ok := part.compare(f.chain, f.ties, at, each, math.Inf(-1))
	if !ok {
		return f, false
	}
	// What the numbers outside the place cost is the same for all.
	fixed := each * float64(now.layout.n)
	limit := fixed + 2*(least-fixed) + hopeless
	found, costs := make([]fitted, len(moves)), make([]float64, len(moves))
	var wait sync.WaitGroup
	free := make(chan bool, runtime.GOMAXPROCS(0))
	for i, m := range moves {
		free <- true
		wait.Go(func() {
			defer func() { <-free }()
			c, t := f.graft(f.ties, m.a, m.b, m.graft)
			moved := at
			moved.to += len(m.links) - (m.b - m.a + 1)
			var ok bool
			if found[i], costs[i], ok = part.compare(c, t, moved, each, limit); !ok {
				costs[i] = math.Inf(1)
			}
		})
	}
	wait.Wait()
	best := -1
	least -= gain
	for i, cost := range costs {
		if cost < least {
			best, least = i, cost
		}
	}
	if best < 0 {
		return f, false
	}
	return found[best], true
}

// compare refines the links of a place and returns what the picture then costs. What lies over the limit at first is left as it is.
func (p *picture) compare(c chain, t ties, at place, each, limit float64) (fitted, float64, bool) {
	g, cost := fitted{chain: c}, math.Inf(1)
	if !c.ordered(0, len(c.links)-1) {
		return g, cost, false
	}
	for _, n := range []int{firstIterations, contestIterations} {
		var err error
		if g, err = p.refinePart(g.chain, t, n, at); err != nil || !g.ordered(at.from, at.to) {
			return g, cost, false
		}
		cost = p.weigh(&g, at, each) + g.implausible()
		if cost > limit {
			break
		}
	}
	return g, cost, true
}

// window returns the links that take part when links a to b change: squares with their shoulders, the arcs of an
// ogee and the walls of a tied vee whole.
func (f *fitted) window(a, b int) place {
	from, to := max(0, a-flank), min(len(f.links)-1, b+flank)
	for _, s := range f.ties.shoulders {
		p, q := min(s.link, s.square), max(s.link, s.square)
		if p < from && q >= from {
			from = p
		}
		if q > to && p <= to {
			to = q
		}
	}
	for from > 0 && (f.links[from].bound() || f.ties.rims[from]) {
		from--
	}
	for to+1 < len(f.links) && (f.links[to+1].bound() || f.ties.rims[to+1]) {
		to++
	}
	return place{from, to, from < a, to > b}
}
