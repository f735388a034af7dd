package view

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile/lsq"
)

// adjustAll starts from the stated focal length, or from several where it is only assumed, and settles the best.
func adjustAll(groups []group, o AdjustOptions) (model, lsq.Result, error) {
	prior := o.Focal.orAssumed()
	starts := []float64{prior.F35}
	if prior.Sigma > 0.1 {
		// One octave on either side: the search reaches a factor of two from each.
		starts = append(starts, prior.F35/2, prior.F35*2)
	}
	var best model
	cost := math.Inf(1)
	var failed error
	for _, f35 := range starts {
		m, err := startModel(groups, o, f35)
		if err != nil {
			failed = err
			continue
		}
		m.prior = prior
		m, res, err := m.thinned().solve(roughly)
		if err != nil {
			failed = err
			continue
		}
		if res.Cost < cost {
			best, cost = m, res.Cost
		}
	}
	if math.IsInf(cost, 1) {
		return best, lsq.Result{}, fmt.Errorf("%w: %w: find the boards again, or leave that one out", ErrReference, failed)
	}
	m, res, err := best.withPoints(groups).settle()
	if err != nil {
		return m, res, fmt.Errorf("%w: %w: find the boards again", ErrReference, err)
	}
	return m, res, nil
}

// thinned returns the model with about 24 points of every group, enough to tell good starts from bad.
func (m model) thinned() model {
	m.groups = append([]group(nil), m.groups...)
	for i, g := range m.groups {
		step := max(1, len(g.at)/24)
		m.groups[i].at, m.groups[i].seen = nil, nil
		for k := 0; k < len(g.at); k += step {
			m.groups[i].at = append(m.groups[i].at, g.at[k])
			m.groups[i].seen = append(m.groups[i].seen, g.seen[k])
		}
	}
	return m
}

// withPoints returns the model with all points of the groups, at the places it has found for them.
func (m model) withPoints(groups []group) model {
	m.groups = append([]group(nil), m.groups...)
	for i, g := range groups {
		m.groups[i].at, m.groups[i].seen = g.at, g.seen
	}
	return m
}

// startModel places the plane by the first board's homography and the other boards by their rays to it.
func startModel(groups []group, o AdjustOptions, f35 float64) (model, error) {
	m := model{camera: o.Focal.orAssumed().start(o.Width, o.Height, f35), groups: append([]group(nil), groups...)}
	h, err := homography(groups[0].at, groups[0].seen)
	if err != nil {
		return m, fmt.Errorf("board 1: %w", err)
	}
	if m.plane, err = poseOf(m.camera, h); err != nil {
		return m, fmt.Errorf("board 1: %w", err)
	}
	for i := 1; i < len(m.groups); i++ {
		if err := m.placeGroup(i); err != nil {
			return m, fmt.Errorf("board %d: %w", i+1, err)
		}
	}
	return m, nil
}

// placeGroup lays group i into the plane by the similarity between its points and where their rays meet it.
func (m *model) placeGroup(i int) error {
	g := &m.groups[i]
	on := make([]r2.Vec, len(g.at))
	for k, p := range g.seen {
		q, ok := m.plane.Meet(m.camera.Ray(p), 0)
		if !ok {
			return errors.New("it does not lie in the plane of board 1")
		}
		on[k] = r2.Vec{X: q.X, Y: q.Y}
	}
	a, ta := normalised(g.at)
	b, tb := normalised(on)
	var dot, cross float64
	for k := range a {
		dot += r2.Dot(a[k], b[k])
		cross += r2.Cross(a[k], b[k])
	}
	turn := math.Atan2(cross, dot)
	at := r2.Sub(tb.c, r2.Rotate(ta.c, turn, r2.Vec{}))
	g.place = r3.Vec{X: at.X, Y: at.Y, Z: turn}
	return nil
}

// settle solves again from a place close to the solution, with the corners' standard deviation as their scatter
// shows it if that is larger than stated. Where the picture contradicts the stated focal length, the picture is
// believed.
func (m model) settle() (model, lsq.Result, error) {
	m, res, err := m.solve(exactly)
	if err != nil {
		return m, res, err
	}
	if spread := m.spread(res); spread > 1 {
		m = m.coarser(spread)
		if m, res, err = m.solve(exactly); err != nil {
			return m, res, err
		}
	}
	if !m.contradicts(res) {
		return m, res, nil
	}
	stated := m.prior
	m.prior = Focal{F35: m.camera.Focal35(), Sigma: assumedSigma}
	if m, _, err = m.solve(exactly); err != nil {
		return m, res, err
	}
	m.prior.Note = stated.contradicted(m.camera.Focal35())
	return m.solve(exactly)
}

// coarser returns the model with its points' standard deviations multiplied by k.
func (m model) coarser(k float64) model {
	m.groups = append([]group(nil), m.groups...)
	for i := range m.groups {
		m.groups[i].sigma *= k
	}
	return m
}

// spread is the points' robust scatter over their standard deviation, by the median (normal: 0.6745), times what
// it takes to count neighbours that err together as fewer: a curled sheet bends all of its corners at once.
func (m model) spread(res lsq.Result) float64 {
	n := m.count() - priors
	if m.square > 0 {
		n -= 2
	}
	free := n - (len(res.P) - priors)
	if free < 1 {
		return 1
	}
	abs := make([]float64, n)
	for i := range abs {
		abs[i] = math.Abs(res.Residuals[priors+i])
	}
	sort.Float64s(abs)
	return abs[n/2] / 0.6745 * math.Sqrt(float64(n)/float64(free)) * m.clumping(res.Residuals[priors:priors+n])
}

// clumping is the factor on the standard deviation of points whose residuals (x and y in turn) are correlated with
// their neighbour's by rho: (1 + rho) / (1 - rho), the square root of the share of independent ones in a sheet where
// correlation falls off geometrically both along and across (for a series: Bartlett 1946). A correlation within two
// standard deviations of none counts as none.
func (m model) clumping(r []float64) float64 {
	var own, next float64
	i, pairs := 0, 0
	for _, g := range m.groups {
		for k := range g.at {
			own += r[i]*r[i] + r[i+1]*r[i+1]
			if k+1 < len(g.at) {
				next += r[i]*r[i+2] + r[i+1]*r[i+3]
				pairs += 2
			}
			i += 2
		}
	}
	const most = 0.95 // beyond it a sheet's hundred corners would count as less than one
	rho := next/own - 2/math.Sqrt(float64(pairs))
	if !(rho > 0) {
		return 1
	}
	rho = math.Min(rho, most)
	return (1 + rho) / (1 - rho)
}

// contradicts reports whether the picture by itself, without the prior, shows another focal length.
func (m model) contradicts(res lsq.Result) bool {
	post, prior := res.Covariance()[0], m.prior.Sigma*m.prior.Sigma
	off := math.Log(m.camera.F / NewCamera(m.camera.Width, m.camera.Height, m.prior.F35).F)
	if math.Abs(off) > contradiction*m.prior.Sigma {
		return true // a calibration's prior is so narrow that a picture need not halve it to leave it
	}
	if post >= observedShare*observedShare*prior {
		return false
	}
	// Posterior = weighted mean of picture and prior, so the picture alone is off * prior / (prior - post).
	alone := off * prior / (prior - post)
	variance := post * prior / (prior - post)
	return math.Abs(alone) > contradiction*math.Sqrt(variance+prior)
}
