package fit

import (
	"math"

	"spindlestick/profile"
)

const (
	// lostStep is how far, mm of diameter, the trace must stand off an element for what it shows there to be a fillet that
	// the element swallowed: a step that nobody overlooks.
	lostStep = 3.0
	// lostLevel is how much the diameters of such a fillet may differ among themselves, mm: the outline of a rim, which
	// stands off as far, is a slope.
	lostLevel = 0.3
	// lostReach is how close to the element's end such samples must come, mm: a smeared step lies between.
	lostReach = 2.5
	// traceGap is the spacing of a trace's samples, mm.
	traceGap = 0.25
)

// restored puts back fillets beside a step that the picture's search gave up and that the trace shows plainly.
func restored(p profile.Pattern, t profile.Trace) profile.Pattern {
	for k := 0; k < len(p.Elements); k++ {
		for _, end := range []profile.End{profile.Near, profile.Far} {
			if q, ok := restoredAt(p, k, end, t); ok {
				p = q
			}
		}
	}
	return p
}

// restoredAt looks at one end of element k.
func restoredAt(p profile.Pattern, k int, end profile.End, t profile.Trace) (profile.Pattern, bool) {
	e := p.Elements[k]
	if e.Kind == profile.Square || e.Kind == profile.Shoulder {
		return p, false
	}
	run := givenUp(e, end, samplesBetween(t, e.X0, e.X1))
	if len(run) < minLine {
		return p, false
	}
	at, i := run[0].X-traceGap/2, k+1
	if end == profile.Near {
		at, i = run[len(run)-1].X+traceGap/2, k
	}
	q, err := profile.Split(p, k, at)
	if err != nil || q.Elements[i].Length() < leastShape {
		return p, false
	}
	f := &q.Elements[i]
	d := 2 * run[len(run)/2].R
	*f = profile.Element{Kind: profile.Fillet, X0: f.X0, X1: f.X1, D0: d, D1: d, State: profile.Visible, U: f.U}
	f.U.D0, f.U.D1, f.U.Mid = common(run[0]), common(run[0]), 0
	return q, q.Validate() == nil
}

// givenUp returns the samples nearest to an end of e that are seen, level, and stand off it.
func givenUp(e profile.Element, end profile.End, s []profile.Sample) []profile.Sample {
	var run []profile.Sample
	low, high := math.Inf(1), math.Inf(-1)
	for j := range s {
		q := s[j]
		if end == profile.Far {
			q = s[len(s)-1-j]
		}
		d := 2 * q.R
		low, high = math.Min(low, d), math.Max(high, d)
		if q.State != profile.Visible || math.Abs(e.At(q.X)-d) <= lostStep || high-low > lostLevel {
			if len(run) >= minLine || math.Abs(q.X-endOf(e, end)) > lostReach {
				break
			}
			run, low, high = nil, math.Inf(1), math.Inf(-1)
			continue
		}
		if end == profile.Far {
			run = append([]profile.Sample{q}, run...)
		} else {
			run = append(run, q)
		}
	}
	return run
}

func endOf(e profile.Element, end profile.End) float64 {
	if end == profile.Near {
		return e.X0
	}
	return e.X1
}
