package fit

import (
	"math"
)

// course is a fitted line or circle, as radius against station.
type course struct {
	arc        bool
	x, r       float64 // a point of the line, or the centre
	ex, er     float64
	radius     float64
	sign       float64 // +1 convex
	start, end float64 // stations of its samples
	n          int     // their number
}

// at returns the radius at station x; beyond the circle's width the end of its diameter holds.
func (c course) at(x float64) float64 {
	if c.arc {
		d := x - c.x
		return c.r + c.sign*math.Sqrt(math.Max(0, c.radius*c.radius-d*d))
	}
	if math.Abs(c.ex) < 1e-6 {
		return c.r
	}
	return c.r + (x-c.x)*c.er/c.ex
}

// wall is the sine of the slope from which a line is the face of a square shoulder, 80 degrees: steeper than any
// wall of a vee, and what blur and noise leave of a face that stands upright.
const wall = 0.985

// courseOf fits a piece.
func courseOf(pts []point, p piece) course {
	m := newMoments(pts[p.i])
	for _, q := range pts[p.i:p.j] {
		m.add(q)
	}
	c := course{start: pts[p.i].x, end: pts[p.j-1].x, n: p.j - p.i}
	if p.shape == arc {
		if k, ok := m.arcFit(); ok {
			c.arc, c.x, c.r, c.radius = true, k.x, k.r, k.radius
			c.sign = math.Copysign(1, m.or+m.y/m.w-k.r)
			return c
		}
	}
	c.x, c.r, c.ex, c.er = m.lineFit()
	return c
}

// build turns the pieces into a chain from 0 to length: where neighbours cross near the samples between them
// they meet in a corner, elsewhere there is a step.
func build(pts []point, pieces []piece, length, sigma float64) chain {
	var c chain
	var courses []course
	for _, p := range pieces {
		if p.shape != line && p.shape != arc {
			continue
		}
		q := courseOf(pts, p)
		if !q.arc && math.Abs(q.er) > wall {
			continue
		}
		if n := len(courses); n > 0 {
			if u, ok := unseen(pts, courses[n-1], q, c.links[n-1].j, p.i); ok {
				courses = append(courses, u)
				c.links = append(c.links, link{i: p.i, j: p.i, unseen: true})
			}
		}
		courses = append(courses, q)
		c.links = append(c.links, link{i: p.i, j: p.j})
	}
	n := len(courses)
	if n == 0 {
		return c
	}
	c.joints = make([]joint, n+1)
	c.joints[0] = endJoint(courses[0], 0)
	for k := 1; k < n; k++ {
		c.joints[k] = meet(pts, courses[k-1], courses[k], c.links[k-1].j, c.links[k].i, sigma)
	}
	c.joints[n] = endJoint(courses[n-1], length)
	c.order()
	for k, q := range courses {
		c.shape(k, q)
	}
	return c
}

func endJoint(q course, x float64) joint {
	r := math.Max(0, q.at(x))
	return joint{x: x, before: r, after: r, lo: x, hi: x}
}

// cornerReach is how far beyond the samples beside it a corner may lie, mm: blur rounds corners over a few
// samples, which the cut then gives to one side.
const cornerReach = 0.6

// leastRadius keeps what is continued into the unseen from crossing the axis, mm.
const leastRadius = 0.5

// leastStep is the smallest step between neighbours, mm of radius: half a scribed line is no shoulder.
const leastStep = 0.05

func (c course) endSpread() float64 {
	k := 2.0
	if c.arc {
		k = 3
	}
	return k / math.Sqrt(float64(c.n))
}

// meet joins two courses; points [j, i) lie between them.
func meet(pts []point, a, b course, j, i int, sigma float64) joint {
	lo, hi := a.end, b.start
	x, ok := crossing(a, b, lo-cornerReach, hi+cornerReach, (lo+hi)/2)
	if ok && !notch(pts, a, b, j, i, a.at(x)) {
		r := math.Max(leastRadius, (a.at(x)+b.at(x))/2)
		return joint{x: x, before: r, after: r, lo: lo, hi: hi}
	}
	x = stepAt(pts, a, b, j, i)
	ra, rb := math.Max(leastRadius, a.at(x)), math.Max(leastRadius, b.at(x))
	// The end of a line through n samples has the standard deviation 2 sigma / sqrt(n), that of an arc 3.
	unsure := certain * sigma * math.Hypot(a.endSpread(), b.endSpread())
	if math.Abs(ra-rb) < math.Max(unsure, leastStep) {
		ra = (ra + rb) / 2
		rb = ra
	}
	return joint{x: x, before: ra, after: rb, lo: lo, hi: hi}
}

// notch reports whether a crossing at radius r lies unseen below both of its neighbours: the walls of a vee do,
// but where an arc takes part, the hidden corner is a rim with a step.
func notch(pts []point, a, b course, j, i int, r float64) bool {
	return hiddenBetween(pts, j, i) && (a.arc || b.arc) && r < math.Min(a.at(a.end), b.at(b.start))-leastStep
}

// hiddenBetween reports whether a hidden stretch lies between points j-1 and i.
func hiddenBetween(pts []point, j, i int) bool {
	for k := j; k <= i; k++ {
		if pts[k].gap {
			return true
		}
	}
	return false
}

// crossing returns the station nearest to mid, between lo and hi, where the courses cross.
func crossing(a, b course, lo, hi, mid float64) (float64, bool) {
	const cells = 64
	best, found := 0.0, false
	diff := func(x float64) float64 { return a.at(x) - b.at(x) }
	for k := range cells {
		p, q := lo+(hi-lo)*float64(k)/cells, lo+(hi-lo)*float64(k+1)/cells
		if diff(p)*diff(q) > 0 {
			continue
		}
		x := bisect(diff, p, q)
		if !found || math.Abs(x-mid) < math.Abs(best-mid) {
			best, found = x, true
		}
	}
	return best, found
}

func bisect(f func(float64) float64, lo, hi float64) float64 {
	sign := f(lo)
	for range 40 {
		m := (lo + hi) / 2
		if f(m)*sign > 0 {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// stepAt places a step: half way up the samples that blur left between the courses; at the rim that stands
// in front where a stretch is hidden; else in the middle of the interval between samples.
func stepAt(pts []point, a, b course, j, i int) float64 {
	if i > j && pts[i-1].x-pts[j].x > steepReach {
		// A face smeared by perspective: it hides what is lower, so the rim stands at the end of what is higher.
		if a.at(a.end) > b.at(b.start) {
			return (pts[j-1].x + pts[j].x) / 2
		}
		return (pts[i-1].x + pts[i].x) / 2
	}
	half := (a.at(a.end) + b.at(b.start)) / 2
	for k := j; k <= i; k++ {
		p, q := pts[k-1], pts[k]
		if k == i || k == j {
			continue
		}
		if (p.r-half)*(q.r-half) <= 0 && q.r != p.r {
			return p.x + (q.x-p.x)*(half-p.r)/(q.r-p.r)
		}
	}
	if hiddenBetween(pts, j, i) {
		if a.at(a.end) > b.at(b.start) {
			return a.end
		}
		return b.start
	}
	return (a.end + b.start) / 2
}

// leastSpan keeps joints apart, mm: a tenth of a scribed line.
const leastSpan = 0.01

// order moves joints that came out of order apart again.
func (c *chain) order() {
	n := len(c.joints) - 1
	for k := 1; k < n; k++ {
		c.joints[k].x = math.Max(c.joints[k].x, c.joints[k-1].x+leastSpan)
	}
	for k := n - 1; k > 0; k-- {
		c.joints[k].x = math.Min(c.joints[k].x, c.joints[k+1].x-leastSpan)
	}
}

// shape gives link k the height that its course has over the chord between its joints.
func (c *chain) shape(k int, q course) {
	if !q.arc {
		return
	}
	l := &c.links[k]
	l.form, l.convex = free, q.sign > 0
	s := c.segment(k)
	h := q.radius - math.Sqrt(math.Max(0, q.radius*q.radius-s.Chord()*s.Chord()/4))
	// More than a semicircle cannot be turned: the chord then lies beyond the centre.
	l.sagitta = q.sign * math.Min(h, s.Chord()/2)
}

const (
	// unseenDrop is how far under both neighbours the readings of a hidden stretch must sink before something
	// is taken to stand there, mm.
	unseenDrop = 0.3
	// leastUnseen is the shortest stretch that hides a shape of its own, mm.
	leastUnseen = 1.0
)

// unseen returns the level run that a hidden stretch between two courses is taken to hold: where a curve ends
// out of sight, it ends on a fillet. Points [j, i) lie between the courses.
func unseen(pts []point, a, b course, j, i int) (course, bool) {
	low, at := math.Inf(1), 0.0
	for k := j; k <= i; k++ {
		if pts[k].gap && pts[k].low < low {
			low, at = pts[k].low, pts[k].lowX
		}
	}
	lo, hi := a.end, b.start
	if math.IsInf(low, 1) || !a.arc && !b.arc || hi-lo < leastUnseen || low > math.Min(a.at(lo), b.at(hi))-unseenDrop {
		return course{}, false
	}
	if x, ok := crossing(a, b, lo, hi, at); ok && a.at(x) > low-2*leastStep {
		return course{}, false
	}
	return course{x: at, r: low, ex: 1, start: at, end: at, n: minLine}, true
}
