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
	for i := range w.points {
		q := &w.points[i]
		if i > 0 {
			phi := math.Exp((w.points[i-1].station - q.station) / grainLength)
			state *= phi
			spread = phi*phi*spread + (1-phi*phi)*variance
		}
		own := math.Max(crisp, 1/q.root)
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

// weigh returns the description length of a chain before the picture's points: what they leave unexplained, and
// perNumber for each number.
func (p *picture) weigh(c *chain, t ties, perNumber float64) float64 {
	w := newExposure(p, *c, t)
	r := make([]float64, len(p.points))
	w.residuals(nil, r)
	return w.evidence(r) + perNumber*float64(w.layout.n)
}
