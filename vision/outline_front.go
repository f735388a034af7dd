package vision

import (
	"fmt"
	"math"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// Something in front of the piece, a hand or a block, reaches beyond one edge or both, unlike: there nothing of the
// piece itself is seen.
const (
	frontUnlike = 1.25 // one side's reach over the other's
	frontBulge  = 1.4  // over what the piece reaches beside it: a bead of which one side has broken off stands out less
	mostFront   = 0.15 // of the length: a hand's width is less
	frontMargin = 8    // stations beside it whose points it may have moved
)

// markFront marks the points of a side as inferred where something stands in front of it, and returns the share of the
// length.
func markFront(o *view.Outline, l level) float64 {
	n := int(l.length) + 1
	reach := [2][]float64{reachOf(heights(o.Sides[0], l.of, 1), n), reachOf(heights(o.Sides[1], l.of, -1), n)}
	lo := func(x int) float64 { return math.Min(reach[0][x], reach[1][x]) }
	hi := func(x int) float64 { return math.Max(reach[0][x], reach[1][x]) }
	front := [2][]bool{make([]bool, n), make([]bool, n)}
	hidden := 0
	for x := 0; x < n; x++ {
		end, most := x, [2]float64{}
		for end < n && hi(end) > frontUnlike*lo(end)+damagePx {
			most[0], most[1] = math.Max(most[0], reach[0][end]), math.Max(most[1], reach[1][end])
			end++
		}
		if end == x {
			continue
		}
		before, after := max(0, x-frontMargin), min(n-1, end-1+frontMargin)
		beside := frontBulge * math.Max(lo(before), lo(after))
		for i := before; i <= after; i++ {
			front[0][i], front[1][i] = front[0][i] || most[0] > beside, front[1][i] || most[1] > beside
			if most[0] > beside || most[1] > beside {
				hidden++
			}
		}
		x = end
	}
	for k := range o.Sides {
		for i := range o.Sides[k] {
			x, _ := l.of(o.Sides[k][i].P)
			if c := int(math.Round(x)); c >= 0 && c < n && front[k][c] {
				o.Sides[k][i].State = profile.Inferred
			}
		}
	}
	return float64(hidden) / float64(n)
}

// reachOf is the reach of one side by station; where nothing is known the further of the reaches beside it.
func reachOf(h heightMap, n int) []float64 {
	out := make([]float64, n)
	last, from := 0.0, 0
	for x := 0; x <= n; x++ {
		v := last
		if x < n {
			var ok bool
			if v, ok = h.at(x); !ok {
				continue
			}
			out[x] = v
		}
		for i := from; i < x; i++ {
			out[i] = math.Max(last, v)
		}
		last, from = v, x+1
	}
	return out
}

// frontWarning tells of what stands in front of the piece.
func frontWarning(share float64) string {
	return fmt.Sprintf("Something stands in front of the piece over %.0f %% of its length: what is behind it is inferred from its neighbours.", 100*share)
}
