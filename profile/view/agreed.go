package view

import (
	"math"

	"spindlestick/profile"
)

// leastAgreed is the share of the length over which the two sides of an outline must be seen and agree: damage and what
// neighbours hide leave more, and an outline that strayed from one side leaves less.
const leastAgreed = 0.4

// agreed is the share of the length over which the two sides agree, of where the user passed over neither.
func (a placed) agreed(t profile.Trace) float64 {
	n, all := 0, 0
	for _, s := range t.Samples {
		if holds(a.passed[0], s.X) || holds(a.passed[1], s.X) {
			continue
		}
		all++
		if s.State == profile.Visible {
			n++
		}
	}
	if all == 0 {
		return 1
	}
	return float64(n) / float64(all)
}

// inFront is by how much of the radius one side may reach further than the other and still be the sound one of the two:
// chips are shallower, hands and blocks in front reach further.
const inFront = 0.25

// sound is the radius that two sides show where they may disagree: of the one further out, as damage takes away, unless
// it stands out so far that something else is in front of it.
func sound(p, q float64) float64 {
	if lo, hi := math.Min(p, q), math.Max(p, q); hi <= (1+inFront)*lo {
		return hi
	}
	return math.Min(p, q)
}

// bare is the mean radius at station x; false where something stands in front of one side.
func (a placed) bare(x float64) (float64, bool) {
	p, ok := a.contours[0].nearest(x)
	q, seen := a.contours[1].nearest(x)
	clear := math.Max(p.r, q.r) <= (1+inFront)*math.Min(p.r, q.r)
	return (p.r + q.r) / 2, ok && seen && clear
}
