package sizing

import (
	"math"
	"sort"

	"spindlestick/profile"
)

// Turns are an element's ends and the stations between them where it stops rising or falling, those left out that
// a turner would not tell from the one before or from the end.
func Turns(e profile.Element) []float64 {
	out := []float64{e.X0}
	for _, x := range extremes(e) {
		if !sameSpot(e, x, e.X1) && !sameSpot(e, out[len(out)-1], x) {
			out = append(out, x)
		}
	}
	return append(out, e.X1)
}

// extremes are the stations inside an element where it stops rising or falling, in order.
func extremes(e profile.Element) []float64 {
	var at []float64
	segs := e.Segments()
	for i, s := range segs {
		if x, _, ok := s.Extreme(); ok {
			at = append(at, x)
		}
		if i+1 < len(segs) && turns(e, s.X1) {
			at = append(at, s.X1)
		}
	}
	sort.Float64s(at)
	return at
}

// sameSpot reports whether two stations of an element are one to the turner: a crest that stands at an end.
func sameSpot(e profile.Element, a, b float64) bool {
	return math.Abs(a-b) < equal && math.Abs(e.At(a)-e.At(b)) < equal
}

// turns reports whether an element has a crest or bottom where its two segments meet.
func turns(e profile.Element, x float64) bool {
	const near = 1e-3 // mm: to look on both sides of the point, far under any tool's edge
	before, here, after := e.At(x-near), e.At(x), e.At(x+near)
	return (before-here)*(after-here) > 0
}

// Highest is the largest diameter of an element between two stations, mm.
func Highest(e profile.Element, from, to float64) float64 {
	top := math.Max(e.At(from), e.At(to))
	for _, x := range extremes(e) {
		if x > from && x < to {
			top = math.Max(top, e.At(x))
		}
	}
	return top
}

// equal is how close two figures are to be one, mm: what calipers do not tell apart (0.05 mm vernier, DIN 862).
const equal = 0.05

// flat is a difference of diameter that makes no slope, mm: a hundredth, under what calipers show.
const flat = 0.01
