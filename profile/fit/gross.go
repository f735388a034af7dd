package fit

import (
	"math"
	"sort"

	"spindlestick/profile"
)

// Limits of what counts as a gross departure of a pattern from its trace.
const (
	// grossLeast is the least departure of a diameter, mm, and grossShare how many of the trace's uncertainties it must be:
	// far over any noise, so that what departs so far where both sides show is a wrong shape, not a bad measurement.
	grossLeast = 1.0
	grossShare = 6
	// grossPart is the share of a piece over which a pattern may depart grossly and still be the better one: what perspective
	// smears on the trace departs from the right pattern as well.
	grossPart = 0.01
	// grossMargin is what is left out on either side of a station, mm: corners and smeared steps depart there.
	grossMargin = 0.7
)

// grossLength returns the length over which a pattern departs grossly from what the trace shows plainly, mm. Squares and
// shoulders are left out: the trace does not read their turned surface.
func grossLength(p profile.Pattern, t profile.Trace) float64 {
	sum := 0.0
	for i := 1; i < len(t.Samples); i++ {
		s := t.Samples[i]
		k := p.Index(s.X)
		if s.State != profile.Visible || k < 0 {
			continue
		}
		e := p.Elements[k]
		if e.Kind == profile.Square || e.Kind == profile.Shoulder || s.X < e.X0+grossMargin || s.X > e.X1-grossMargin {
			continue
		}
		if math.Abs(e.At(s.X)-2*s.R) > math.Max(grossLeast, grossShare*common(s)) {
			sum += s.X - t.Samples[i-1].X
		}
	}
	return sum
}

// settleFlats sets fillets and cylinders that depart grossly from their own plainly seen samples to what these read: a run that
// swallowed a hidden neighbour keeps the part that was seen.
func settleFlats(p profile.Pattern, t profile.Trace) profile.Pattern {
	q := p.Clone()
	for k, e := range q.Elements {
		if e.Kind != profile.Fillet && e.Kind != profile.Cylinder {
			continue
		}
		var d []float64
		worst := 0.0
		for _, s := range t.Samples {
			if s.State == profile.Visible && s.X >= e.X0+grossMargin && s.X <= e.X1-grossMargin {
				d = append(d, 2*s.R)
				worst = math.Max(worst, common(s))
			}
		}
		if len(d) < minLine {
			continue
		}
		sort.Float64s(d)
		if m := d[len(d)/2]; math.Abs(m-e.D0) > math.Max(grossLeast, grossShare*worst) {
			q.Elements[k].D0, q.Elements[k].D1 = m, m
			q.Elements[k].U.D0, q.Elements[k].U.D1 = math.Max(e.U.D0, worst), math.Max(e.U.D1, worst)
		}
	}
	return q
}
