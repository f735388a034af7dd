package view

import (
	"math"
	"sort"

	"spindlestick/profile"
)

const (
	// edgeBias is the standard deviation of an edge's place that no picture shows, px, for it moves both edges alike
	// everywhere: a sub-pixel edge is good to 1/20 px at best (Lyvers et al., PAMI 11(12), 1989), evenly spread
	// (GUM 4.3.7).
	edgeBias = 0.05 / 1.7320508075688772
	// unknownEdge stands in for the scatter of the edges where too little of both is seen, px.
	unknownEdge = 0.05
	// slowSpan is the length over which the two sides are levelled to see what moves an edge slowly (light, ground,
	// grain along the piece), mm: longer than most elements, so that no mean over one makes it smaller.
	slowSpan = 20.0
	// leastMirrored is how many samples must show both sides before their difference says anything, and steepSide the
	// slope beyond which it says where a step is and not how wide the piece is.
	leastMirrored, steepSide = 100, 1.0
	// perMedian turns a median of absolute values into a standard deviation (of a normal distribution).
	perMedian = 1.4826
	// excess is how many standard deviations the sides must differ by before the stretch is worse than the piece.
	excess = 2.0
)

// edges is how well the two edges are seen, as the piece's own symmetry shows it, standard deviations of the mean of
// both sides in px. Half the difference of the sides has the variance of their mean, whatever moves each by itself.
type edges struct {
	spread float64 // at one station
	slow   float64 // of the mean over slowSpan
}

// edgesOf reads the edges' scatter off a trace.
func (a placed) edgesOf(t profile.Trace) edges {
	var x, half []float64
	for i, s := range t.Samples {
		if _, square := a.besideSquare(s.X); square || s.State != profile.Visible || steepness(t.Samples, i) > steepSide {
			continue
		}
		x = append(x, s.X)
		half = append(half, (s.Sides[1]-s.Sides[0])/2/a.p.MMPerPixel(s.X))
	}
	if len(half) < leastMirrored {
		return edges{unknownEdge, unknownEdge}
	}
	return edges{perMedian * medianSize(half), perMedian * medianSize(levels(x, half))}
}

// steepness is the size of the slope of the radius at sample i.
func steepness(s []profile.Sample, i int) float64 {
	j, k := max(0, i-1), min(len(s)-1, i+1)
	if s[k].X <= s[j].X {
		return math.Inf(1)
	}
	return math.Abs(s[k].R-s[j].R) / (s[k].X - s[j].X)
}

// levels returns the means of v over slowSpan about each of the stations, which grow.
func levels(x, v []float64) []float64 {
	out := make([]float64, len(v))
	sum, lo, hi := 0.0, 0, 0
	for i := range v {
		for ; hi < len(v) && x[hi] <= x[i]+slowSpan/2; hi++ {
			sum += v[hi]
		}
		for ; x[lo] < x[i]-slowSpan/2; lo++ {
			sum -= v[lo]
		}
		out[i] = sum / float64(hi-lo)
	}
	return out
}

// medianSize is the median of absolute values.
func medianSize(v []float64) float64 {
	abs := make([]float64, len(v))
	for i, w := range v {
		abs[i] = math.Abs(w)
	}
	sort.Float64s(abs)
	return abs[len(abs)/2]
}

// shared is the standard deviation of the mean of both edges over a whole stretch, px.
func (e edges) shared() float64 { return math.Hypot(edgeBias, e.slow) }

// fast is that at one station about it, px.
func (e edges) fast() float64 { return math.Sqrt(max(0, e.spread*e.spread-e.slow*e.slow)) }

// ofOutline fills in what the edges contribute to diameters: what stretches share, the scatter about it, the difference
// of the two sides where it is larger than elsewhere (the diameter may lie anywhere between twice the one and twice the
// other: rectangular, GUM 4.3.7), and what the uncertainty of the station does on a slope.
func (b *budget) ofOutline(at placed, t profile.Trace) {
	n := len(t.Samples)
	e := at.edgesOf(t)
	b.shared, b.edge, b.asym, b.station = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i, s := range t.Samples {
		px := 2 * at.p.MMPerPixel(s.X)
		b.shared[i] = px * e.shared()
		b.edge[i] = math.Hypot(px*e.fast(), s.U/2)
		b.station[i] = b.bySlope(t, i)
		if s.State == profile.Visible {
			b.asym[i] = max(0, localDifference(t.Samples, i)-excess*px*e.spread) / math.Sqrt(3)
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
