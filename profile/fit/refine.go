package fit

import (
	"fmt"
	"math"
	"sort"

	"spindlestick/profile/lsq"
	"spindlestick/profile/view"
)

const (
	// huber is the residual in standard deviations beyond which a sample's pull stays constant.
	huber = 3
	// blurWeight lets the samples of a smeared step place it without bending its neighbours.
	blurWeight = 0.25
	// nearJoint is how close to a joint a sample must lie for the neighbour to claim it, mm.
	nearJoint = 4.0
	// outOfOrder is the residual of a chain whose joints have passed one another: no step goes there.
	outOfOrder = 1e5
)

// target is the trace as the refinement sees it.
type target struct {
	pts   []point
	sigma float64
	owner []int // the link to the left of, or holding, each point
	root  []float64
	known []view.SquareStretch // squares that the outline shows
}

func newTarget(pts []point, c *chain, sigma float64) *target {
	t := &target{pts: pts, sigma: sigma, owner: make([]int, len(pts)), root: make([]float64, len(pts))}
	k := 0
	smeared := wideSteps(pts, c)
	for i, p := range pts {
		for k+1 < len(c.links) && i >= c.links[k+1].i {
			k++
		}
		t.owner[i] = k
		t.root[i] = math.Sqrt(p.weight) / sigma
		if i < c.links[k].i || i >= c.links[k].j {
			t.root[i] *= blurWeight
		}
		if smeared[i] {
			t.root[i] = 0
		}
	}
	return t
}

// wideSteps marks the samples of steps too wide to be blur: perspective smears them to one side, so they say
// nothing of where the step stands.
func wideSteps(pts []point, c *chain) []bool {
	out := make([]bool, len(pts))
	for k := 1; k < len(c.links); k++ {
		a, b := c.links[k-1].j, c.links[k].i
		if b <= a || pts[b-1].x-pts[a].x <= steepReach {
			continue
		}
		for i := a; i < b; i++ {
			out[i] = true
		}
	}
	return out
}

// fitted is a refined chain with what is known of its numbers.
type fitted struct {
	chain
	ties       ties
	layout     layout
	covariance []float64
	cost       float64
}

// refine moves all joints and heights together until the samples lie closest.
func (t *target) refine(c chain, tie ties, iterations int) (fitted, error) {
	w := &refinement{target: t, chain: c.clone(), layout: newLayout(&c, tie)}
	w.curves = make([]curve, len(c.links))
	w.rises = make([]curve, len(c.joints))
	start := w.layout.pack(&c)
	res, err := lsq.Solve(lsq.Problem{
		Start: start, Count: len(t.pts), Residuals: w.residuals, Jacobian: w.jacobian,
	}, lsq.Settings{Huber: huber, Iterations: iterations, Tolerance: 1e-6})
	if err != nil {
		return fitted{}, fmt.Errorf("fit: refine the stations: %w", err)
	}
	w.layout.unpack(res.P, &w.chain)
	return fitted{chain: w.chain, ties: tie, layout: w.layout, covariance: res.Covariance(), cost: res.Cost}, nil
}

// claim gives every link the samples between its ends.
func (c *chain) claim(pts []point) {
	first := func(x float64) int { return sort.Search(len(pts), func(i int) bool { return pts[i].x >= x }) }
	for k := range c.links {
		c.links[k].i, c.links[k].j = first(c.joints[k].x), first(c.joints[k+1].x)
	}
}

func (c *chain) clone() chain {
	return chain{joints: append([]joint(nil), c.joints...), links: append([]link(nil), c.links...)}
}

// refinement is the work space of one search.
type refinement struct {
	*target
	chain  chain
	layout layout
	curves []curve // of the links
	rises  []curve // of the steps
}

// set writes the parameters into the chain and the links [a, b] into curves; false when the chain is not sound.
func (w *refinement) set(p []float64, a, b int) bool {
	w.layout.unpack(p, &w.chain)
	if !w.chain.sound(a, b) {
		return false
	}
	for k := a; k <= b; k++ {
		w.curves[k] = newCurve(w.chain.segment(k))
	}
	for k := max(a, 1); k <= min(b+1, len(w.rises)-2); k++ {
		j := w.chain.joints[k]
		w.rises[k] = curve{x0: j.x, r0: j.before, x1: j.x, r1: j.after}
	}
	return true
}

func (w *refinement) residuals(p, r []float64) {
	n := len(w.curves)
	ok := w.set(p, 0, n-1)
	for i := range r {
		r[i] = outOfOrder
		if ok {
			r[i] = w.residual(i)
		}
	}
}

// residual is the distance of point i from the nearest curve that may claim it, in standard deviations.
func (w *refinement) residual(i int) float64 {
	p, k := w.pts[i], w.owner[i]
	d := w.curves[k].distance(p.x, p.r)
	nearer := func(c *curve) {
		if v := c.distance(p.x, p.r); math.Abs(v) < math.Abs(d) {
			d = v
		}
	}
	if k > 0 && p.x-w.chain.joints[k].x < nearJoint {
		nearer(&w.curves[k-1])
		nearer(&w.rises[k])
	}
	if k+1 < len(w.curves) && w.chain.joints[k+1].x-p.x < nearJoint {
		nearer(&w.curves[k+1])
		nearer(&w.rises[k+1])
	}
	return d * w.root[i]
}

// jacobian differences only the samples that a parameter can move.
func (w *refinement) jacobian(p, jac []float64) {
	const h = 1e-6 // mm: far under the noise, far over rounding
	n := w.layout.n
	clear(jac)
	q := append([]float64(nil), p...)
	w.set(p, 0, len(w.curves)-1)
	for c, t := range w.layout.touch {
		from, to := w.reach(t)
		q[c] = p[c] + h
		if !w.set(q, t[0], t[1]) {
			q[c] = p[c]
			w.set(q, t[0], t[1])
			continue
		}
		for i := from; i < to; i++ {
			jac[i*n+c] = w.residual(i)
		}
		q[c] = p[c] - h
		w.set(q, t[0], t[1])
		for i := from; i < to; i++ {
			jac[i*n+c] = (jac[i*n+c] - w.residual(i)) / (2 * h)
		}
		q[c] = p[c]
		w.set(q, t[0], t[1])
	}
}

// reach returns the samples whose nearest curve may be one of the links t[0] to t[1].
func (w *refinement) reach(t [2]int) (from, to int) {
	from, to = 0, len(w.pts)
	if a := t[0] - 1; a > 0 {
		from = w.chain.links[a].i
	}
	if b := t[1] + 2; b < len(w.chain.links) {
		to = w.chain.links[b].i
	}
	return from, to
}
