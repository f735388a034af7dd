package fit

import "math"

const (
	// dented is how far off, in standard deviations, points must stand to belong to a dent, and dentGap how far apart, mm, they
	// may lie in one.
	dented  = 4.0
	dentGap = 1.0
	// leastDent is the least sum of squares of a dent's points for which a shape is tried.
	leastDent = 60.0
)

// dent is where the picture shows something within a link that the link has not.
type dent struct {
	lo, hi float64 // stations
	depth  float64 // mm, positive inward
}

// dents are grooves and beads put into link k where its points stand off it: what the trace's samples were too coarse for.
func (p *picture) dents(f *fitted, k int) (out []move) {
	if !f.movable(k, k) {
		return nil
	}
	d, ok := p.dent(f, k)
	if !ok {
		return nil
	}
	s := f.segment(k)
	a, b := f.shortened(k, s.X0, d.lo), f.shortened(k, d.hi, s.X1)
	level := f.ties.level[k]
	insert := func(in []link, inner []joint, lv []bool, r0, r1 float64) {
		g := f.ends(k, k)
		g.links = append(append([]link{a.link}, in...), b.link)
		g.level = append(append([]bool{level}, lv...), level)
		g.joints = append(append([]joint{{x: d.lo, before: a.r1, after: r0}}, inner...), joint{x: d.hi, before: r1, after: b.r0})
		out = append(out, move{k, k, g})
	}
	x := (d.lo + d.hi) / 2
	low := math.Max(leastRadius, math.Min(a.r1, b.r0)-d.depth)
	if d.depth < 0 {
		insert([]link{{form: free, sagitta: -d.depth, convex: true}}, nil, []bool{false}, a.r1, b.r0)
		return out
	}
	insert([]link{{}, {}}, []joint{{x: x, before: low, after: low}}, []bool{false, false}, a.r1, b.r0)
	insert([]link{{form: free, sagitta: -math.Min(d.depth, (d.hi-d.lo)/2)}}, nil, []bool{false}, a.r1, b.r0)
	insert([]link{{}}, nil, []bool{true}, low, low)
	return out
}

// dent returns the strongest dent of link k.
func (p *picture) dent(f *fitted, k int) (best dent, ok bool) {
	lo, hi := f.joints[k].x, f.joints[k+1].x
	part := p.between(lo, hi)
	if len(part.points) == 0 {
		return best, false
	}
	w := newExposure(part, f.chain, f.ties)
	r := make([]float64, len(part.points))
	w.residuals(nil, r)
	most := leastDent
	for i := 0; i < len(r); {
		if math.Abs(r[i]) < dented {
			i++
			continue
		}
		sign := math.Copysign(1, r[i])
		c := dent{lo: part.points[i].station}
		sum, j := 0.0, i
		for ; j < len(r) && part.points[j].station-math.Max(c.lo, c.hi) < dentGap; j++ {
			if q := &part.points[j]; r[j]*sign >= dented {
				c.hi = q.station
				sum += math.Min(gross, r[j]*r[j])
				c.depth = math.Max(c.depth, math.Abs(r[j])/q.root/q.perV*p.D)
			}
		}
		c.depth *= -sign
		if sum > most && c.hi-c.lo > leastShape/3 && c.lo > lo+leastShape/3 && c.hi < hi-leastShape/3 {
			best, most, ok = c, sum, true
		}
		i = max(j, i+1)
	}
	return best, ok
}
