package fit

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// Limits of the refinement through the camera.
const (
	// leastPixels is the standard deviation that a point of the outline is credited with at best, px: edges of
	// wood are no better, whatever their contrast.
	leastPixels = 0.05
	// tight is how far from a joint every other point of the outline counts, mm; farther away their errors are alike, and a
	// spacing of a tenth of the distance is enough, beyond near of a fifth.
	tight = 2.0
	near  = 6.0
)

// seen is one point of the outline in axis coordinates.
type seen struct {
	u, v       float64 // v outward
	side       int
	perU, perV float64 // px
	station    float64 // where its ray meets the axis, mm
	lean       float64 // cosine between the edge's normal and the way across the axis
	root       float64 // 1 / standard deviation, px
}

// picture is the outline as the refinement sees it.
type picture struct {
	view.Projector
	points []seen // by station
	trace  profile.Trace
	chance float64 // what a point costs, as evidence, where the chain is right
	grain  float64 // standard deviation of what neighbouring points err by together, px
}

var errPicture = errors.New("fit: the outline cannot be used")

// newPicture takes the usable points of an outline: those that the trace calls damaged count only on the side
// that lies further out.
func newPicture(m view.Measurement, c *chain) (*picture, error) {
	p, err := view.NewProjector(m.Scene)
	if err != nil {
		return nil, err
	}
	out := &picture{Projector: p, trace: m.Trace, grain: leastGrain}
	for side, pts := range m.Outline.Sides {
		last := math.Inf(-1)
		for i, e := range pts {
			q := out.point(e, side)
			apart := spacing(c, q.station)
			if apart == 0 && i%2 == 1 || math.Abs(q.station-last) < apart || !out.usable(q, e.State, m.Trace) {
				continue
			}
			out.points = append(out.points, q)
			last = q.station
		}
	}
	sort.Slice(out.points, func(i, j int) bool { return out.points[i].station < out.points[j].station })
	if len(out.points) == 0 {
		return nil, errPicture
	}
	return out, nil
}

func (p *picture) point(e view.EdgePoint, side int) seen {
	u, v := p.ToAxis(e.P)
	du, dv := p.PixelsPer(u, v)
	return seen{u: u, v: v * float64(2*side-1), side: side, perU: r2.Norm(du), perV: r2.Norm(dv),
		station: p.Station(u), lean: math.Abs(r2.Dot(e.N, dv)) / r2.Norm(dv), root: 1 / math.Hypot(e.Sigma, leastPixels)}
}

// usable reports whether a point says something of the piece.
func (p *picture) usable(q seen, s profile.State, t profile.Trace) bool {
	if s == profile.Hidden || s == profile.Inferred || !(q.station >= 0 && q.station <= t.Length) || !finite(q.v+q.lean+q.root) {
		return false
	}
	at, ok := t.At(q.station)
	if ok && at.State == profile.Damaged {
		// Chips only take away: the side that lies further out is the piece.
		return at.Sides[q.side] >= at.Sides[1-q.side]
	}
	return s != profile.Damaged
}

// spacing returns how far apart, mm, the points at station x need to lie.
func spacing(c *chain, x float64) float64 {
	k := sort.Search(len(c.joints), func(i int) bool { return c.joints[i].x >= x })
	d := math.Inf(1)
	for _, i := range []int{k - 1, k} {
		if i >= 0 && i < len(c.joints) {
			d = math.Min(d, math.Abs(c.joints[i].x-x))
		}
	}
	switch {
	case d < tight:
		return 0
	case d < near:
		return d / 10
	}
	return d / 5
}

// lost is the distance, px, of a point where the model shows nothing.
const lost = 10

const (
	// upright is the least cosine of an edge's lean for which the way across, shortened by it, is the distance, and
	// nearby how far, px, that holds.
	upright = 0.85
	nearby  = 1.5
)

// miss is the distance of a point from the outline of a look, px, positive where the point lies outside; by is what it
// changes by for each unit that the outline's width there grows, NaN where one width does not tell.
func (q *seen) miss(l *view.Look) (px, width, by float64) {
	w, ok := l.Width(q.u, q.side)
	if q.lean > upright && ok && math.Abs(w-q.v)*q.perV < nearby {
		by = -q.perV * q.lean
		return (w - q.v) * by, w, by
	}
	// Neighbours along the axis, px: near ones for the slope, far ones to find the steep face of a step. Nothing beyond the
	// near ones lies closer than they do.
	best, sign, lean := q.reach(l, []float64{-1, 0, 1})
	if best > 1 {
		best, _, _ = q.reach(l, []float64{-3, -1, 0, 1, 3})
		lean = math.NaN()
	}
	return sign * best, w, -q.perV * lean
}

// mostLean is the slope of an outline, from pixel to pixel, up to which one width tells how far it moved.
const mostLean = 3

// reach is the distance of a point from the outline through the widths at some pixels along the axis, its sign, and the cosine
// of the outline's slope, NaN where it is too steep or breaks off.
func (q *seen) reach(l *view.Look, along []float64) (best, sign, lean float64) {
	best, sign = lost, 1
	steepest, slopes := 0.0, 0
	prevX, prevY, have := 0.0, 0.0, false
	for _, s := range along {
		w, ok := l.Width(q.u+s/q.perU, q.side)
		if !ok {
			have = false
			continue
		}
		x, y := s, (w-q.v)*q.perV
		if s == 0 {
			sign = math.Copysign(1, -y)
		}
		best = math.Min(best, math.Hypot(x, y))
		if have {
			best = math.Min(best, toOrigin(prevX, prevY, x, y))
			steepest, slopes = math.Max(steepest, math.Abs(y-prevY)/(x-prevX)), slopes+1
		}
		prevX, prevY, have = x, y, true
	}
	if steepest > mostLean || slopes < len(along)-1 {
		return best, sign, math.NaN()
	}
	return best, sign, 1 / math.Hypot(1, steepest)
}

// toOrigin is the distance of the origin from the segment between two points.
func toOrigin(ax, ay, bx, by float64) float64 {
	dx, dy := bx-ax, by-ay
	t := -(ax*dx + ay*dy) / (dx*dx + dy*dy)
	t = math.Max(0, math.Min(1, t))
	return math.Hypot(ax+t*dx, ay+t*dy)
}
