package fit

import (
	"math"

	"spindlestick/profile"
)

// Limits of the contest of shapes in the picture.
const (
	// doubtful is the mean squared residual, in standard deviations, from which a stretch is looked at again; what
	// is right stays near one.
	doubtful = 2
	// doubtReach is how far from a joint its residuals are looked at, mm.
	doubtReach = 3.0
	// contestIterations let a candidate settle far enough to be compared.
	contestIterations = 8
	// shiftReach and shiftStep span the places at which a step is tried, mm.
	shiftReach = 2.0
	shiftStep  = 0.25
	// flank is how many links beside the changed ones take part in a candidate's refinement.
	flank = 2
)

// contest looks again at the joints where the picture does not agree with the chain, and lets other shapes of the
// place compete: the one with the least cost, each number charged at ln n, stays.
// The covariance of what it returns is no longer that of the chain: refine it again.
func (p *picture) contest(f fitted) fitted {
	for k := 1; k < len(f.links); k++ {
		if _, s := f.ties.shoulder(k - 1); s {
			continue
		}
		if _, s := f.ties.shoulder(k); s || p.doubt(&f, k) < doubtful {
			continue
		}
		f = p.settle(f, k)
	}
	return f
}

// doubt is the mean squared residual of the points about joint k.
func (p *picture) doubt(f *fitted, k int) float64 {
	x := f.joints[k].x
	w := &exposure{picture: p.between(x-doubtReach, x+doubtReach), chain: f.chain, ties: f.ties}
	return w.mean(max(0, k-1), min(k, len(f.links)-1))
}

// between returns the part of a picture between two stations.
func (p *picture) between(lo, hi float64) *picture {
	out := &picture{Projector: p.Projector}
	for _, q := range p.points {
		if q.station >= lo && q.station <= hi {
			out.points = append(out.points, q)
		}
	}
	return out
}

// mean is the mean of the squared residuals of all points, each limited to a hundred, before links a to b.
func (w *exposure) mean(a, b int) float64 {
	l := w.look(a, b)
	sum := 0.0
	for i := range w.points {
		r := w.points[i].root * w.points[i].miss(l)
		sum += math.Min(100, r*r)
	}
	return sum / math.Max(1, float64(len(w.points)))
}

// candidate is another shape of a place: links from to to of a chain.
type candidate struct {
	chain    chain
	ties     ties
	from, to int
}

// settle returns f with joint k in the best of its shapes.
func (p *picture) settle(f fitted, k int) fitted {
	now := candidate{f.chain, f.ties, k - 1, k}
	from, to := now.window()
	part := p.between(f.joints[from].x, f.joints[to+1].x)
	ln := math.Log(float64(len(p.points)))
	best, least := now, math.Inf(1)
	for _, c := range append([]candidate{now}, p.candidates(&f, k)...) {
		g, err := part.refinePart(c)
		if err != nil {
			continue
		}
		if cost := g.cost + ln*float64(g.layout.n); cost < least {
			least, best = cost, candidate{g.chain, c.ties, c.from, c.to}
		}
	}
	if math.IsInf(least, 1) {
		return f
	}
	f.chain, f.ties = best.chain, best.ties
	return f
}

// candidates are the other shapes of joint k.
func (p *picture) candidates(f *fitted, k int) []candidate {
	var out []candidate
	if c, ok := p.shifted(f, k); ok {
		out = append(out, candidate{c, f.ties, k - 1, k})
	}
	if f.joints[k].step() {
		out = append(out, candidate{closed(&f.chain, k), f.ties, k - 1, k})
	}
	for _, l := range []int{k - 1, k} {
		if c, t, ok := f.levelled(l); ok {
			out = append(out, candidate{c, t, k - 1, k})
		}
		if c, t, ok := f.walled(l); ok {
			out = append(out, candidate{c, t, k - 1, k + 1})
		}
	}
	return out
}

// shifted returns the chain with a step at joint k where it agrees best with the picture, its neighbours continued
// up to there.
func (p *picture) shifted(f *fitted, k int) (chain, bool) {
	near := p.between(f.joints[k].x-2*shiftReach, f.joints[k].x+2*shiftReach)
	best, least := chain{}, math.Inf(1)
	a, b := extended(f.segment(k-1)), extended(f.segment(k))
	for d := -shiftReach; d <= shiftReach; d += shiftStep {
		c := f.clone()
		j := &c.joints[k]
		j.x += d
		if j.x <= c.joints[k-1].x+leastSpan || j.x >= c.joints[k+1].x-leastSpan {
			continue
		}
		j.before, j.after = math.Max(leastRadius, a.at(j.x)), math.Max(leastRadius, b.at(j.x))
		if j.before == j.after {
			j.after += leastStep / 2
		}
		c.refit(k-1, a)
		c.refit(k, b)
		w := &exposure{picture: near, chain: c, ties: f.ties}
		if m := w.mean(k-1, k); m < least {
			best, least = c, m
		}
	}
	return best, !math.IsInf(least, 1)
}

// extended is the course that a segment lies on.
func extended(s profile.Segment) course {
	if cx, cr, ok := s.Centre(); ok {
		return course{arc: true, x: cx, r: cr, radius: s.Radius(), sign: math.Copysign(1, s.Sagitta)}
	}
	c := s.Chord()
	return course{x: s.X0, r: s.R0, ex: (s.X1 - s.X0) / c, er: (s.R1 - s.R0) / c}
}

// refit gives a free arc the height of its course over its new chord.
func (c *chain) refit(k int, q course) {
	if c.links[k].form == free {
		c.shape(k, q)
	}
}
