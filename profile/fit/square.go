package fit

import (
	"math"

	"spindlestick/profile"
	"spindlestick/profile/lsq"
	"spindlestick/profile/view"
)

// Limits of what is taken for a square. A silhouette cannot show corners face on, so a square is known by what
// a turner does beside it.
const (
	// squareShare is the least length of a square against its side.
	squareShare = 0.8
	// squareSize: nothing turned from the blank is larger than its square; the rest is for noise and wear.
	squareSize = 1.03
	// shoulderAngle is the least slope with which a shoulder leaves a flat: the turned surface there has already
	// come down from the corners, so it never leaves level as a round-over does.
	shoulderAngle = 0.35
)

// shoulder is the visible part of a transition between a square and the round.
type shoulder struct {
	link, square int // the visible link and the square's
	style        profile.Style
}

// squares finds the level runs that are squares, and their shoulders.
func (f *fitted) squares(t ties, tgt *target) (square []bool, shoulders []shoulder) {
	square = make([]bool, len(f.links))
	largest := tgt.largest()
	for k := range f.links {
		s := f.segment(k)
		square[k] = t.level[k] && stretchOf(tgt.known, s.X0, s.X1) >= 0
		if !t.level[k] || !square[k] && (s.X1-s.X0 < squareShare*2*s.R0 || largest > squareSize*s.R0) {
			continue
		}
		for _, n := range []int{k - 1, k + 1} {
			if f.leavesFlat(k, n) {
				square[k] = true
				shoulders = append(shoulders, shoulder{link: n, square: k, style: f.style(n, tgt)})
			}
		}
	}
	return square, shoulders
}

// largest is the largest radius measured.
func (t *target) largest() float64 {
	r := 0.0
	for _, p := range t.pts {
		r = math.Max(r, p.r)
	}
	return r
}

// leavesFlat reports whether link n falls steeply from link k without a step.
func (f *fitted) leavesFlat(k, n int) bool {
	if n < 0 || n >= len(f.links) || f.joints[max(k, n)].step() {
		return false
	}
	s := f.segment(n)
	if n > k {
		return startAngle(s) < -shoulderAngle && chordAngle(s) < -shoulderAngle
	}
	return endAngle(s) > shoulderAngle && chordAngle(s) > shoulderAngle
}

// styleMargin is how much better, in squared standard deviations, a straight shoulder must fit than a curved one:
// turners cut curved shoulders, and a short visible part of one is nearly straight.
const styleMargin = 12

// style returns the shoulder whose visible part lies closest to the samples of link n.
func (f *fitted) style(n int, tgt *target) profile.Style {
	s := f.segment(n)
	pts, root := tgt.pts[f.links[n].i:f.links[n].j], tgt.root[f.links[n].i:f.links[n].j]
	quarter := placed(s, quarterSagitta, pts, root)
	reversed := placed(s, func(s profile.Segment) float64 { return levelSagitta(s, false) }, pts, root)
	plain := placed(s, func(profile.Segment) float64 { return 0 }, pts, root) + styleMargin
	switch {
	case plain < math.Min(quarter, reversed):
		return profile.Straight
	case reversed < quarter:
		return profile.Reversed
	}
	return profile.Quarter
}

// placed returns the least sum of squares of the points about segment s when its ends may move along the axis
// and its height follows from them.
func placed(s profile.Segment, height func(profile.Segment) float64, pts []point, root []float64) float64 {
	at := func(p []float64) curve {
		m := s
		m.X0, m.X1 = p[0], math.Max(p[1], p[0]+leastSpan)
		m.Sagitta = height(m)
		return newCurve(m)
	}
	res, err := lsq.Solve(lsq.Problem{
		Start: []float64{s.X0, s.X1}, Count: len(pts),
		Residuals: func(p, r []float64) {
			c := at(p)
			for i, q := range pts {
				r[i] = root[i] * c.distance(q.x, q.r)
			}
		},
	}, lsq.Settings{Huber: huber, Iterations: 20})
	if err != nil {
		return math.Inf(1)
	}
	return res.Cost
}

// quarterSagitta is the height of the visible part s of a quarter shoulder: its larger end lies on the flat, at
// half the side, and its circle is level at the corners, half the diagonal from the axis.
func quarterSagitta(s profile.Segment) float64 {
	rad, _ := quarterCircle(s)
	c := s.Chord()
	if rad <= c/2 {
		return c / 2
	}
	return rad - math.Sqrt(rad*rad-c*c/4)
}

// quarterCircle returns the radius of that circle and how far its crest lies beyond the visible end on the flat.
// With a and b the drops from the corners to the two ends, the circle's crest is sqrt(2Ra - a²) from one and
// sqrt(2Rb - b²) from the other, and these differ by the length of the visible part.
func quarterCircle(s profile.Segment) (radius, beyond float64) {
	half, low := math.Max(s.R0, s.R1), math.Min(s.R0, s.R1)
	a, b, length := half*(math.Sqrt2-1), half*math.Sqrt2-low, s.X1-s.X0
	reach := func(rad, drop float64) float64 { return math.Sqrt(math.Max(0, 2*rad*drop-drop*drop)) }
	lo, hi := b, 1e4*b // no more than a quarter of the circle is turned
	for range 60 {
		m := math.Sqrt(lo * hi)
		if reach(m, b)-reach(m, a) < length {
			lo = m
		} else {
			hi = m
		}
	}
	return lo, reach(lo, a)
}

// shoulderElement returns the whole shoulder of which segment s is the visible part; atStart says that the
// square lies before it.
func shoulderElement(s profile.Segment, style profile.Style, atStart bool) profile.Element {
	half, low := math.Max(s.R0, s.R1), math.Min(s.R0, s.R1)
	corner := half * math.Sqrt2
	length, drop := s.X1-s.X0, corner-low
	e := profile.Element{Kind: profile.Shoulder, Style: style, Side: 2 * half}
	switch style {
	case profile.Quarter:
		rad, beyond := quarterCircle(s)
		length += beyond
		c := math.Hypot(length, drop)
		e.Sagitta = rad - math.Sqrt(math.Max(0, rad*rad-c*c/4))
	case profile.Reversed:
		rad := s.Radius()
		// Two equal arcs, level at both ends: drop = 2R(1 - cos a), length = 2R sin a.
		a := math.Acos(math.Max(-1, 1-drop/(2*rad)))
		length = 2 * rad * math.Sin(a)
		e.Sagitta = rad * (1 - math.Cos(a/2))
	default:
		length *= drop / (half - low)
	}
	if !(length > s.X1-s.X0) || math.IsInf(length, 0) {
		length = s.X1 - s.X0 // the visible part says nothing: it is all there is
	}
	if atStart {
		e.X0, e.X1, e.D0, e.D1 = s.X1-length, s.X1, 2*corner, 2*low
	} else {
		e.X0, e.X1, e.D0, e.D1 = s.X0, s.X0+length, 2*low, 2*corner
	}
	if style == profile.Reversed {
		e.InnerX, e.InnerD = (e.X0+e.X1)/2, corner+low
		if !atStart {
			e.Sagitta = -e.Sagitta
		}
	}
	return e
}

// rim ends a shoulder at its last visible sample when what follows is hidden: a shoulder stands over its
// fillet, and what hides the fillet is the shoulder's rim.
func (t *target) rim(c *chain, s shoulder) {
	far, next, last := s.link+1, s.link+1, c.links[s.link].j-1
	if s.link < s.square {
		far, next, last = s.link, s.link-1, c.links[s.link].i
	}
	if next < 0 || next >= len(c.links) || c.joints[far].step() {
		return
	}
	a, b := c.links[min(s.link, next)], c.links[max(s.link, next)]
	if !hiddenBetween(t.pts, a.j, b.i) || t.pts[last].r < c.joints[far].after+leastStep {
		return
	}
	j := &c.joints[far]
	j.x = t.pts[last].x
	if s.link > s.square {
		j.before = t.pts[last].r
	} else {
		j.after = t.pts[last].r
	}
}

// stretchOf returns the stretch known to be square that makes up most of what lies between two stations, and of which
// that is most; -1 for none.
func stretchOf(known []view.SquareStretch, x0, x1 float64) int {
	for i, q := range known {
		if both := math.Min(x1, q.X1) - math.Max(x0, q.X0); both > (x1-x0)/2 && both > (q.X1-q.X0)/2 {
			return i
		}
	}
	return -1
}
