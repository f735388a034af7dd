package view

import (
	"math"

	"spindlestick/profile"
)

// leastAgreed is the share of the length over which the two sides of an outline must be seen and agree: damage and what
// neighbours hide leave more, and an outline that strayed from one side leaves less.
const leastAgreed = 0.5

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

// inFront is by how much of the radius one side may reach further than the other for the two to show the piece alone.
const inFront = 0.25

// bare is the mean radius at station x; false where something stands in front of one side.
func (a placed) bare(x float64) (float64, bool) {
	p, ok := a.contours[0].nearest(x)
	q, seen := a.contours[1].nearest(x)
	clear := math.Max(p.r, q.r) <= (1+inFront)*math.Min(p.r, q.r)
	return (p.r + q.r) / 2, ok && seen && clear
}
