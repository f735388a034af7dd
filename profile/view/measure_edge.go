package view

import (
	"math"

	"spindlestick/profile"
)

const (
	// edgeBias is the standard deviation of what moves both edges alike all along and shows nowhere, px: a sub-pixel edge
	// is good to 1/20 px at best (Lyvers et al., PAMI 11(12), 1989), and that is what is left over thirty rendered
	// photographs when what moves the edges slowly is taken off.
	edgeBias = 0.04
	// slowSpan is the length over which the sides are levelled to see what moves an edge slowly (light, ground, grain
	// along the piece), mm: longer than most elements.
	slowSpan = 20.0
	// unknownEdge stands in for the scatter of the edges where too little of both is seen, px.
	unknownEdge = 0.05
	// leastMirrored is how many samples must show both sides before their difference says anything.
	leastMirrored = 100
	// excess is how many standard deviations the sides must differ by before the stretch is worse than the piece.
	excess = 2.0
)

// edges is how well the two edges are seen, as the piece's own symmetry shows it: standard deviations of the mean of both,
// mm.
type edges struct {
	spread float64 // at one station
	slow   float64 // over slowSpan; the same light, ground and grain move both alike by as much again, unseen
}

// edgesOf reads the edges' scatter off a trace.
func (a placed) edgesOf(t profile.Trace) edges {
	turned := profile.Trace{}
	for _, s := range t.Samples {
		if _, square := a.besideSquare(s.X); !square {
			turned.Samples = append(turned.Samples, s)
		}
	}
	m := turned.Symmetry()
	if m.Count() < leastMirrored {
		unknown := unknownEdge * a.p.MMPerPixel(t.Length/2)
		return edges{unknown, unknown}
	}
	return edges{m.Spread(0), m.Spread(slowSpan)}
}

// ofOutline fills in what the edges contribute to diameters: their bias and their scatter, the difference of the two
// sides where it is larger than elsewhere (the diameter may lie anywhere between twice the one and twice the other:
// rectangular, GUM 4.3.7), and what the uncertainty of the station does on a slope.
func (b *budget) ofOutline(at placed, t profile.Trace) {
	n := len(t.Samples)
	e := at.edgesOf(t)
	b.bias, b.edge, b.asym, b.station = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i, s := range t.Samples {
		b.bias[i] = 2 * math.Hypot(edgeBias*at.p.MMPerPixel(s.X), e.slow)
		b.edge[i] = math.Hypot(2*e.spread, s.U/2)
		b.station[i] = b.bySlope(t, i)
		if s.State == profile.Visible {
			b.asym[i] = max(0, localDifference(t.Samples, i)-excess*2*e.spread) / math.Sqrt(3)
		}
	}
}

// localDifference is how far the sides differ about sample i: twice half of it, mm.
func localDifference(s []profile.Sample, i int) float64 {
	half := int(budgetWindow / 4 / traceStep)
	var diff []float64
	for _, o := range s[max(0, i-half):min(len(s), i+half+1)] {
		if o.State == profile.Visible {
			diff = append(diff, o.Sides[1]-o.Sides[0])
		}
	}
	return math.Abs(median(diff))
}

// bySlope is how far the diameter changes within one standard deviation of the station of sample i.
func (b *budget) bySlope(t profile.Trace, i int) float64 {
	s := t.Samples[i]
	most := 0.0
	for _, dx := range []float64{-b.x[i], b.x[i]} {
		if q, ok := t.At(s.X + dx); ok {
			most = max(most, 2*math.Abs(q.R-s.R))
		}
	}
	return most
}
