package fit

import (
	"math"
	"sort"

	"spindlestick/profile"
)

const (
	// worthOffering is the confidence from which another reading is worth an offer.
	worthOffering = 0.08
	// readSamples is how many samples of one element are looked at: more do not tell shapes apart any better.
	readSamples = 80
	// readLeast is how many it takes to tell shapes apart at all; a shape needs one more than it has numbers.
	readLeast = 4
	// readMargin leaves out what blur and a neighbour's step do to the samples beside a station, mm; noise that throws
	// samples of a step's face into the element, three standard deviations of it, asks for more, and so does a station that
	// is not well known. readShare is the most of the element that may be lost to it at either end.
	readMargin = 0.3
	readShare  = 0.2
	// trusted is how much more the reading in force weighs than the samples say: it comes from the neighbours and the
	// picture as well.
	trusted = 3.0
	// besideShoulder and alone are the confidences in a square, which from the side may look like a cylinder: a
	// shoulder beside it says that it is none (common practice, no source).
	besideShoulder = 0.95
	alone          = 0.7
)

// Read fills in how sure each element's kind is, and the next likely reading where it is close, from the trace alone:
// every shape an element may have is fitted between its stations, weighed by the description length of its numbers, and
// named as the proportions say; near a limit between two names both get their share.
func Read(p profile.Pattern, t profile.Trace) profile.Pattern {
	return readBetween(p, t, 0, len(p.Elements)-1)
}

// readBetween reads elements from to to.
func readBetween(p profile.Pattern, t profile.Trace, from, to int) profile.Pattern {
	q := p.Clone()
	sigma := noise(points(t), math.Max(leastNoise, correlated(t)))
	for i := from; i <= to; i++ {
		e := &q.Elements[i]
		e.Confidence, e.Second = 0, profile.Reading{}
		switch e.Kind {
		case profile.Square:
			e.Confidence = squareConfidence(p, i)
			if e.Confidence == alone {
				e.Second = profile.Reading{Kind: profile.Cylinder, Confidence: 1 - alone, Residual: e.Residual}
			}
		case profile.Shoulder:
			e.Confidence = besideShoulder
		default:
			if pts := inside(t, *e, sigma); len(pts) >= readLeast {
				read(e, pts, noise(pts, sigma))
			}
		}
	}
	return q
}

func squareConfidence(p profile.Pattern, i int) float64 {
	for _, k := range []int{i - 1, i + 1} {
		if k >= 0 && k < len(p.Elements) && p.Elements[k].Kind == profile.Shoulder {
			return besideShoulder
		}
	}
	return alone
}

// inside returns the points of the trace well inside an element, thinned.
func inside(t profile.Trace, e profile.Element, sigma float64) []point {
	margin := func(u float64) float64 {
		return math.Min(math.Max(math.Max(readMargin, u), certain*sigma), readShare*e.Length())
	}
	pts := points(profile.Trace{Length: t.Length, Samples: samplesBetween(t, e.X0+margin(e.U.X0), e.X1-margin(e.U.X1))})
	if len(pts) <= readSamples {
		return pts
	}
	out := make([]point, 0, readSamples)
	for k := range readSamples {
		out = append(out, pts[k*len(pts)/readSamples])
	}
	return out
}

// read weighs the readings of one element.
func read(e *profile.Element, pts []point, sigma float64) {
	all, total := weigh(candidates(*e, pts, sigma), e.Kind)
	if !(total > 0) {
		return // no shape could be fitted
	}
	for i := range all {
		all[i].Confidence /= total
		if all[i].Kind == e.Kind {
			e.Confidence = all[i].Confidence
		}
	}
	for _, r := range all {
		if r.Kind != e.Kind && r.Confidence >= worthOffering {
			e.Second = r
			return
		}
	}
}

// weigh adds up what the fitted shapes say for each kind, the likeliest first, and all of it; kind is the one in force.
func weigh(costs []candidate, kind profile.Kind) (all []profile.Reading, total float64) {
	least := math.Inf(1)
	for _, c := range costs {
		least = math.Min(least, c.cost)
	}
	sum, best := map[profile.Kind]profile.Reading{}, map[profile.Kind]float64{}
	for _, c := range costs {
		called := names(c.element)
		for _, k := range profile.Kinds() { // in one order, so that sums come out the same
			share, ok := called[k]
			if !ok {
				continue
			}
			v := share * math.Exp((least-c.cost)/2)
			if k == kind {
				v *= trusted
			}
			r := sum[k]
			r.Kind = k
			r.Confidence += v
			if v >= best[k] {
				best[k], r.Residual = v, c.residual
			}
			sum[k] = r
			total += v
		}
	}
	for _, r := range sum {
		all = append(all, r)
	}
	sort.Slice(all, func(i, j int) bool {
		if all[i].Confidence != all[j].Confidence {
			return all[i].Confidence > all[j].Confidence
		}
		return all[i].Kind < all[j].Kind
	})
	return all, total
}
