package fit

import "math"

const (
	// leastGrain is the standard deviation, px, with which neighbouring points of an edge err together at least: grain,
	// shading towards the limb and the lens' last distortion move the edges of a long run by some hundredths of a
	// pixel, and alike on both sides, so that no comparison of the sides shows it.
	leastGrain = 0.06
	// grainLength is how far along the piece such errors stay alike, mm.
	grainLength = 5.0
	// crisp is the standard deviation of what a point errs by itself, px.
	crisp = 0.05
	// gross is the squared innovation at which a point counts as one that the chain does not explain.
	gross = 25
)

// evidence is how badly the chain explains the points, as the sum of squared innovations: an error that neighbours share
// counts once for each grainLength, not once for each point. The shared error is a first order Gauss-Markov process, and
// the sum runs through its Kalman filter (Gelb, Applied Optimal Estimation, 1974, chapter 4; from memory).
func (w *exposure) evidence(residuals []float64) float64 {
	variance, state, sum := w.grain*w.grain, 0.0, 0.0
	spread := variance
	k := 0
	for i := range w.points {
		q := &w.points[i]
		for k+1 < len(w.chain.joints) && math.Abs(w.chain.joints[k+1].x-q.station) < math.Abs(w.chain.joints[k].x-q.station) {
			k++
		}
		if i > 0 {
			phi := math.Exp((w.points[i-1].station - q.station) / grainLength)
			state *= phi
			spread = phi*phi*spread + (1-phi*phi)*variance
		}
		own := math.Hypot(math.Max(crisp, 1/q.root), w.rounding(k, q))
		e, s := residuals[i]/q.root-state, spread+own*own
		if v := e * e / s; v < gross {
			sum += v
			gain := spread / s
			state += gain * e
			spread *= 1 - gain
		} else {
			sum += gross
		}
	}
	return sum
}

// Blur and the smoothing along an edge round what is sharp: smearWidth is how far from a corner that shows, px, roundShare what
// share of a step's height it moves the edge by, up to a step as high as blur is wide, mostSmear px, and smearTurn by how many
// pixels for each radian of a corner.
const (
	smearWidth = 2.0
	roundShare = 0.15
	mostSmear  = 4.0
	smearTurn  = 0.2
)

// rounding is by how much, px, a point beside joint k may stand off a sharp corner there.
func (w *exposure) rounding(k int, q *seen) float64 {
	if k == 0 || k == len(w.chain.links) {
		return 0
	}
	j := w.chain.joints[k]
	px := q.perV / w.D
	d := (q.station - j.x) * px / smearWidth
	if math.Abs(d) > 3 {
		return 0
	}
	turn := math.Abs(startAngle(w.chain.segment(k)) - endAngle(w.chain.segment(k-1)))
	return (roundShare*math.Min(mostSmear, math.Abs(j.before-j.after)*px) + smearTurn*math.Min(1, turn)) * math.Exp(-d*d/2)
}

// weigh returns the description length of a fitted place of a chain before the picture's points: what they leave
// unexplained, how far its numbers stray from how they usually stand to one another, and what the numbers tell.
func (p *picture) weigh(f *fitted, at place, each float64) float64 {
	w := newExposure(p, f.chain, f.ties)
	w.choose(at)
	r := make([]float64, len(p.points))
	w.residuals(w.start(), r)
	sum := w.evidence(r) + w.told(f, each)
	for _, u := range w.relations() {
		v := u.residual(w.all)
		sum += math.Min(gross, v*v)
	}
	return sum
}

// leastTold is the least share of its price that a number costs: that it is there at all.
const leastTold = 1. / 3

// told is what the numbers cost: each for one that shows; for one out of sight, that the picture leaves nearly as open as it
// was believed to be, twice the logarithm of how much narrower it became.
func (w *exposure) told(f *fitted, each float64) float64 {
	sd, _ := w.beliefs()
	out := w.outOfSight()
	sum := each * float64(w.layout.n-len(w.active))
	for _, a := range w.active {
		cost := each
		if v := f.covariance[a*w.layout.n+a]; out[a] && v > 0 {
			cost = math.Max(leastTold*each, math.Min(each, math.Log(sd[a]*sd[a]/v)))
		}
		sum += cost
	}
	return sum - w.alike(each)
}

// alike is what the radii of fillets spare that are those of their twins on the other side of a bead or cove.
func (w *exposure) alike(each float64) float64 {
	sum := 0.0
	for k := 0; k+2 < len(w.chain.links); k++ {
		s := w.chain.segment(k + 1)
		if !w.ties.level[k] || !w.ties.level[k+2] || w.ties.square[k] || w.ties.square[k+2] || s.Straight() || w.chain.arcShape(k+1) != whole {
			continue
		}
		d := (w.chain.joints[k].after - w.chain.joints[k+2].after) / equalTwin
		sum += math.Max(0, (1-leastTold)*each-d*d)
	}
	return sum
}

// equalTwin is how far the radii of twins differ that are meant to be equal, mm: what a turner's calipers leave.
const equalTwin = 0.05

// outOfSight marks the numbers that say how the chain runs where the trace sees nothing.
func (w *exposure) outOfSight() []bool {
	out := make([]bool, w.layout.n)
	mark := func(i int, lo, hi float64) {
		if i < 0 {
			return
		}
		_, out[i] = w.hull(lo, hi)
	}
	for k, j := range w.chain.joints {
		mark(w.layout.x[k], j.x-leastShape/2, j.x+leastShape/2)
		mark(w.layout.before[k], j.x-leastShape, j.x)
		mark(w.layout.after[k], j.x, j.x+leastShape)
	}
	for k := range w.chain.links {
		if w.ties.level[k] {
			mark(w.layout.after[k], w.chain.joints[k].x, w.chain.joints[k+1].x)
		}
		mark(w.layout.sagitta[k], w.chain.joints[k].x, w.chain.joints[k+1].x)
	}
	return out
}
