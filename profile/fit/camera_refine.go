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
	return p.refinePart(c, t, iterations, place{0, len(c.links) - 1, false, false})
}

// place is a row of links of which the outer ends' radii may be held.
type place struct {
	from, to            int
	holdFirst, holdLast bool
}

// refinePart moves the numbers that belong to the links of a place alone. The picture may be that of their place. The
// covariance is that of the numbers moved; the others count as certain.
func (p *picture) refinePart(c chain, t ties, iterations int, at place) (fitted, error) {
	w := newExposure(p, c, t)
	w.choose(at)
	pulls := w.pulls()
	m := len(p.points)
	res, err := lsq.Solve(lsq.Problem{
		Start: w.start(), Count: m + len(pulls),
		Residuals: func(q, r []float64) {
			w.residuals(q, r[:m])
			for i, u := range pulls {
				r[m+i] = u.residual(w.all)
			}
		},
		Jacobian: func(q, jac []float64) {
			w.jacobian(q, jac)
			for i, u := range pulls {
				u.slopes(w.active, jac[(m+i)*len(w.active):])
			}
		},
	}, lsq.Settings{Huber: huber, Iterations: iterations, Tolerance: 1e-4})
	if err != nil {
		return fitted{}, fmt.Errorf("fit: refine through the camera: %w", err)
	}
	w.set(res.P)
	return fitted{chain: w.chain, ties: t, layout: w.layout, covariance: w.spread(res.Covariance()), cost: res.Cost}, nil
}

// spread writes the covariance of the active numbers into that of all.
func (w *exposure) spread(part []float64) []float64 {
	n, m := w.layout.n, len(w.active)
	out := make([]float64, n*n)
	for i, a := range w.active {
		for j, b := range w.active {
			out[a*n+b] = part[i*m+j]
		}
	}
	return out
}

// medianSquare is the median of the square of a normal deviate.
const medianSquare = 0.455

// reweigh makes the points' standard deviations as large as their residuals say they are: grain and shading move an
// edge more than its contrast tells. The median passes over the places where the chain is still wrong.
func (p *picture) reweigh(f *fitted) {
	w := newExposure(p, f.chain, f.ties)
	w.choose(place{0, len(f.links) - 1, false, false})
	all := make([]float64, len(p.points))
	w.residuals(w.start(), all)
	var r, px []float64
	for i, v := range all {
		if spacing(&f.chain, p.points[i].station) > 0 { // beside the joints much may be wrong
			px = append(px, math.Pow(v/p.points[i].root, 2))
			r = append(r, v*v)
		}
	}
	if len(r) == 0 {
		return
	}
	sort.Float64s(r)
	sort.Float64s(px)
	p.grain = math.Max(leastGrain, math.Sqrt(px[len(px)/2]/medianSquare))
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
	all    []float64 // every number of the chain
	active []int     // those that move
	now    []float64 // residuals, kept for differences
	widths []float64 // of the outline at the points when last looked at
	by     []float64 // see seen.miss
}

func newExposure(p *picture, c chain, t ties) *exposure {
	w := &exposure{picture: p, chain: c.clone(), ties: t, layout: newLayout(&c, t), widths: make([]float64, len(p.points)), by: make([]float64, len(p.points))}
	w.all = w.layout.pack(&c)
	return w
}

// choose makes the numbers that touch no link but those of the place active.
func (w *exposure) choose(at place) {
	w.active = w.active[:0]
	first, last := -1, -1
	if at.holdFirst && !w.ties.level[at.from] {
		first = w.layout.after[at.from]
	}
	if at.holdLast && !w.ties.level[at.to] {
		last = w.layout.before[at.to+1]
	}
	for i, t := range w.layout.touch {
		if t[0] >= at.from && t[1] <= at.to && i != first && i != last {
			w.active = append(w.active, i)
		}
	}
}

// start returns the active numbers.
func (w *exposure) start() []float64 {
	out := make([]float64, len(w.active))
	for i, a := range w.active {
		out[i] = w.all[a]
	}
	return out
}

// set writes the active numbers into the chain.
func (w *exposure) set(p []float64) {
	for i, a := range w.active {
		w.all[a] = p[i]
	}
	w.layout.unpack(w.all, &w.chain)
}

// look prepares links a to b, and those beside them, to be looked at.
func (w *exposure) look(a, b int) *view.Look {
	a, b = max(0, a-beside), min(len(w.chain.links)-1, b+beside)
	return w.Look(profile.Pattern{Elements: solid(&w.chain, &w.ties, a, b)})
}

func (w *exposure) residuals(p, r []float64) {
	w.set(p)
	if !w.chain.ordered(0, len(w.chain.links)-1) {
		for i := range r {
			r[i] = outOfOrder
		}
		return
	}
	// Links are looked at one by one, each for the points before it: a look of all would ask each about every point.
	i := 0
	for k := range w.chain.links {
		last := k == len(w.chain.links)-1
		if i == len(w.points) || !last && w.points[i].station >= w.chain.joints[k+1].x {
			continue
		}
		l := w.look(k, k)
		for ; i < len(w.points) && (last || w.points[i].station < w.chain.joints[k+1].x); i++ {
			px, width, by := w.points[i].miss(l)
			r[i], w.widths[i], w.by[i] = w.points[i].root*px, width, by
		}
	}
}

// jacobian differences only the points that a parameter can move.
func (w *exposure) jacobian(p, jac []float64) {
	const h = 1e-3 // mm: the outline is smooth on that scale but for its corners
	n := len(w.active)
	clear(jac[:n*len(w.points)])
	if w.now == nil {
		w.now = make([]float64, len(w.points))
	}
	w.residuals(p, w.now)
	for c, a := range w.active {
		t := w.layout.touch[a]
		from, to := w.reach(t)
		if from == to {
			continue
		}
		v := w.all[a]
		w.all[a] = v + h
		w.layout.unpack(w.all, &w.chain)
		l := w.look(t[0], t[1])
		for i := from; i < to; i++ {
			jac[i*n+c] = w.change(i, l) / h
		}
		w.all[a] = v
		w.layout.unpack(w.all, &w.chain)
	}
}

// change is by how much the residual of point i differs in another look.
func (w *exposure) change(i int, l *view.Look) float64 {
	q := &w.points[i]
	if by := w.by[i]; !math.IsNaN(by) {
		if width, ok := l.Width(q.u, q.side); ok {
			return q.root * by * (width - w.widths[i])
		}
	}
	px, _, _ := q.miss(l)
	return q.root*px - w.now[i]
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
