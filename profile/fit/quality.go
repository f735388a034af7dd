package fit

import (
	"math"
	"sort"

	"spindlestick/profile"
)

// coverage is the factor between a standard deviation and the expanded uncertainties of an element (k = 2).
const coverage = 2

// mostlyUnseen is the share of an element's length above which it counts as inferred or damaged.
const mostlyUnseen = 0.5

// quality fills in the uncertainties, residuals and states of elements made from the trace.
type quality struct {
	*fitted
	*target
	trace profile.Trace
	sides profile.Symmetry
	scale float64 // the factor of the standard deviations that makes the residuals as large as they are
}

func newQuality(f *fitted, t *target, trace profile.Trace) quality {
	free := math.Max(1, float64(len(t.pts)-f.layout.n))
	return quality{f, t, trace, trace.Symmetry(), math.Sqrt(math.Max(1, f.cost/free))}
}

// fill completes element e, made from links a to b.
func (q quality) fill(e *profile.Element, a, b int) {
	e.U = profile.Bounds{
		X0: q.stationU(a), X1: q.stationU(b + 1),
		D0: q.diameterU(*e, a, q.layout.after[a], nearEnd), D1: q.diameterU(*e, b, q.layout.before[b+1], 1-nearEnd),
	}
	if sh, ok := q.ties.shoulder(a); ok {
		q.fillShoulder(e, sh)
	}
	if _, _, ok := e.Mid(); ok {
		// The crest of what is nearly straight may lie anywhere along it, but no farther off than its ends and its height.
		most := e.U.D0 + e.U.D1 + 2*math.Abs(e.Sagitta)
		if e.Kind.Inner() {
			most = math.Inf(1)
		}
		e.U.Mid = q.withScatter(math.Min(most, coverage*q.scale*q.midSD(e.Kind, a, b)), *e)
	}
	e.Residual = q.residual(a, b)
	e.State = q.state(*e)
}

// stationU is the expanded uncertainty of joint k's station. A step is known no better than to the interval
// between the samples beside it (a rectangular distribution, GUM 4.3.7).
func (q quality) stationU(k int) float64 {
	j := q.joints[k]
	scale := q.trace.ULength * j.x / q.trace.Length
	if q.layout.x[k] < 0 {
		return scale
	}
	sd := q.scale * q.variance(q.layout.x[k])
	width := math.Max(0, j.hi-j.lo)
	if j.step() {
		sd = math.Hypot(math.Min(sd, width), width/math.Sqrt(12))
	}
	room := math.Min(q.span(k-1), q.span(k))
	return math.Hypot(math.Min(coverage*sd, room), scale)
}

// variance returns the standard deviation of a parameter.
func (q quality) variance(i int) float64 {
	if i < 0 {
		return 0
	}
	return math.Sqrt(math.Max(0, q.covariance[i*q.layout.n+i]))
}

// nearEnd is how far inside an end its diameter is looked at, as a share of the element.
const nearEnd = 0.01

// diameterU is the expanded uncertainty of a diameter of e whose radius is parameter i, at one end of link k: of the end
// wherever it stands, or at its station whatever ends there, which on a slope are two things; the joint of two shapes
// that run into one another stands anywhere, and yet both are known there.
func (q quality) diameterU(e profile.Element, k, i int, share float64) float64 {
	sd := 2 * q.variance(i)
	if s := q.segment(k); s.X1 > s.X0 {
		x := s.X0 + share*(s.X1-s.X0)
		sd = math.Min(sd, q.sd(k, k, func(c *chain) float64 { return 2 * c.segment(k).At(x) }))
	}
	return q.withScatter(coverage*q.scale*sd, e)
}

// withScatter joins what the fit leaves open of a diameter of e, mm, which takes the points' errors for independent, or
// what the two sides show to be left of them where that is more, with what all diameters have in common.
func (q quality) withScatter(open float64, e profile.Element) float64 {
	return math.Hypot(math.Max(open, 2*coverage*q.sides.Spread(e.Length()/freedom(e.Kind))), q.systematic(e))
}

// freedom is how many numbers of the fit describe the radius along a kind, the joint that it shares with the next
// included, for it was put where the radius bends. A line takes up what moves an edge over a third of its length: over n
// independent points a fit of p numbers has p/n of one's variance.
func freedom(k profile.Kind) float64 {
	switch k {
	case profile.Square, profile.Fillet, profile.Cylinder:
		return 1
	case profile.Taper:
		return 3
	case profile.Vee:
		return 6
	case profile.Ogee:
		return 8
	}
	return 4
}

// systematic is what the trace says that its diameters along e have in common: scale, camera and the edges' bias. It is
// the median over what is seen, if anything is.
func (q quality) systematic(e profile.Element) float64 {
	var u, all []float64
	for _, s := range samplesBetween(q.trace, e.X0, e.X1) {
		all = append(all, common(s))
		if s.State == profile.Visible {
			u = append(u, common(s))
		}
	}
	if len(u) == 0 {
		u = all
	}
	if len(u) == 0 {
		s, _ := q.trace.At((e.X0 + e.X1) / 2)
		u = append(u, common(s))
	}
	sort.Float64s(u)
	return u[len(u)/2]
}

// common is the part of a sample's uncertainty that a fit over many does not make smaller: all of it where the trace does
// not tell.
func common(s profile.Sample) float64 {
	if s.Shared > 0 {
		return s.Shared
	}
	return s.U
}

// fillShoulder replaces the bounds of a shoulder's end at the corners, which follow from its visible part.
func (q quality) fillShoulder(e *profile.Element, sh shoulder) {
	after := sh.link > sh.square
	corner := func(c *chain) float64 {
		m := shoulderElement(c.segment(sh.link), sh.style, after)
		if after {
			return m.X0
		}
		return m.X1
	}
	sd := coverage * q.scale * q.sd(sh.link, sh.link, corner)
	if after {
		e.U.X0, e.U.D0 = math.Hypot(e.U.X0, math.Min(sd, e.Length())), math.Sqrt2*e.U.D0
		return
	}
	e.U.X1, e.U.D1 = math.Hypot(e.U.X1, math.Min(sd, e.Length())), math.Sqrt2*e.U.D1
}

// midSD is the standard deviation of the diameter at the crest, bottom or inflection of links a to b.
func (q quality) midSD(kind profile.Kind, a, b int) float64 {
	if kind.Inner() {
		return q.sd(a, b, func(c *chain) float64 { return 2 * c.joints[b].before })
	}
	return q.sd(a, a, func(c *chain) float64 {
		_, r, ok := c.segment(a).Extreme()
		if !ok {
			s := c.segment(a)
			r = math.Max(s.R0, s.R1)
		}
		return 2 * r
	})
}

// residual is the root mean square distance of the samples of links a to b from them, mm.
func (q quality) residual(a, b int) float64 {
	sum, n := 0.0, 0
	for k := a; k <= b; k++ {
		c := newCurve(q.segment(k))
		for i := q.links[k].i; i < q.links[k].j; i++ {
			d := c.distance(q.pts[i].x, q.pts[i].r)
			sum += d * d
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return math.Sqrt(sum / float64(n))
}

// state says how the samples between the ends of e came to be known.
func (q quality) state(e profile.Element) profile.State {
	var unseen, damaged float64
	for i := 1; i < len(q.trace.Samples); i++ {
		a, b := q.trace.Samples[i-1], q.trace.Samples[i]
		w := math.Min(b.X, e.X1) - math.Max(a.X, e.X0)
		if w <= 0 {
			continue
		}
		switch {
		case a.State == profile.Hidden || b.State == profile.Hidden || a.State == profile.Inferred || b.State == profile.Inferred:
			unseen += w
		case a.State == profile.Damaged && b.State == profile.Damaged:
			damaged += w
		}
	}
	switch {
	case e.Kind != profile.Shoulder && unseen > mostlyUnseen*e.Length():
		return profile.Inferred
	case damaged > mostlyUnseen*e.Length():
		return profile.Damaged
	}
	return profile.Visible
}
