package fit

import (
	"fmt"
	"math"
	"sort"

	"spindlestick/profile"
	"spindlestick/profile/lsq"
	"spindlestick/profile/view"
)

const (
	// cameraIterations is enough from a start that the trace gives to a pixel.
	cameraIterations = 12
	// beside is how many links on either side of a changed one may stand in front of it or be hidden by it.
	beside = 2
)

// refine moves all joints and heights of a chain together until its outline lies closest to the one seen.
func (p *picture) refine(c chain, t ties, iterations int) (fitted, error) {
	w := &exposure{picture: p, chain: c.clone(), ties: t, layout: newLayout(&c, t)}
	res, err := lsq.Solve(lsq.Problem{
		Start: w.layout.pack(&c), Count: len(p.points), Residuals: w.residuals, Jacobian: w.jacobian,
	}, lsq.Settings{Huber: huber, Iterations: iterations, Tolerance: 1e-4})
	if err != nil {
		return fitted{}, fmt.Errorf("fit: refine through the camera: %w", err)
	}
	w.layout.unpack(res.P, &w.chain)
	return fitted{chain: w.chain, ties: t, layout: w.layout, covariance: res.Covariance(), cost: res.Cost}, nil
}

// medianSquare is the median of the square of a normal deviate.
const medianSquare = 0.455

// reweigh makes the points' standard deviations as large as their residuals say they are: grain and shading move an
// edge more than its contrast tells. The median passes over the places where the chain is still wrong.
func (p *picture) reweigh(f *fitted) {
	w := &exposure{picture: p, chain: f.chain.clone(), ties: f.ties, layout: f.layout}
	r := make([]float64, len(p.points))
	w.residuals(f.layout.pack(&f.chain), r)
	for i := range r {
		r[i] *= r[i]
	}
	sort.Float64s(r)
	scale := math.Sqrt(r[len(r)/2] / medianSquare)
	if scale <= 1 {
		return
	}
	for i := range p.points {
		p.points[i].root /= scale
	}
}

// exposure is the work space of one refinement through the camera.
type exposure struct {
	*picture
	chain  chain
	ties   ties
	layout layout
}

// look prepares links a to b, and those beside them, to be looked at.
func (w *exposure) look(a, b int) *view.Look {
	a, b = max(0, a-beside), min(len(w.chain.links)-1, b+beside)
	return w.Look(profile.Pattern{Elements: solid(&w.chain, &w.ties, a, b)})
}

func (w *exposure) residuals(p, r []float64) {
	w.layout.unpack(p, &w.chain)
	if !w.chain.sound(0, len(w.chain.links)-1) {
		for i := range r {
			r[i] = outOfOrder
		}
		return
	}
	// Links are looked at one by one, each for the points before it: a look of all would ask each about every point.
	i := 0
	for k := range w.chain.links {
		l := w.look(k, k)
		for ; i < len(w.points) && (k == len(w.chain.links)-1 || w.points[i].station < w.chain.joints[k+1].x); i++ {
			r[i] = w.points[i].root * w.points[i].miss(l)
		}
	}
}

// jacobian differences only the points that a parameter can move.
func (w *exposure) jacobian(p, jac []float64) {
	const h = 1e-3 // mm: the outline is smooth on that scale but for its corners
	n := w.layout.n
	clear(jac)
	q := append([]float64(nil), p...)
	w.layout.unpack(p, &w.chain)
	for c, t := range w.layout.touch {
		from, to := w.reach(t)
		w.differ(q, c, h, t, from, to, func(i int, v float64) { jac[i*n+c] = v })
		w.differ(q, c, -h, t, from, to, func(i int, v float64) { jac[i*n+c] = (jac[i*n+c] - v) / (2 * h) })
	}
	w.layout.unpack(p, &w.chain)
}

// differ shifts parameter c by h, hands each residual of points from to to over, and shifts it back.
func (w *exposure) differ(q []float64, c int, h float64, t [2]int, from, to int, put func(int, float64)) {
	v := q[c]
	q[c] = v + h
	w.layout.unpack(q, &w.chain)
	l := w.look(t[0], t[1])
	for i := from; i < to; i++ {
		put(i, w.points[i].root*w.points[i].miss(l))
	}
	q[c] = v
	w.layout.unpack(q, &w.chain)
}

// reach returns the points that links t[0] to t[1] can move: rims smear along the axis.
func (w *exposure) reach(t [2]int) (from, to int) {
	a, b := w.chain.joints[t[0]], w.chain.joints[t[1]+1]
	lo, hi := a.x-w.margin(a), b.x+w.margin(b)
	from = sort.Search(len(w.points), func(i int) bool { return w.points[i].station >= lo })
	to = sort.Search(len(w.points), func(i int) bool { return w.points[i].station > hi })
	return from, max(from, to)
}

// margin is how far along the axis the outline of joint j may be seen from its station, mm.
func (w *exposure) margin(j joint) float64 {
	return 1 + math.Abs(j.x-w.Foot)/w.D*math.Max(j.before, j.after)*1.2
}
