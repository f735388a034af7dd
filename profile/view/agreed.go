package view

import "spindlestick/profile"

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
