package check

import (
	"math"

	"spindlestick/profile"
)

// What it costs to pair stations, in units in which a station that finds no partner costs skipCost on either side.
const (
	skipCost = 0.6
	// alikeMM and alikeShare: two diameters that differ by so much, plus that share of their size, are hardly the same
	// station; copies made by hand stay within a third of it (common practice, no source).
	alikeMM, alikeShare = 1.5, 0.05
	kindCost            = 0.3 // another family of shapes on one side
	endCost             = 1.0 // the end of one piece, the inside of another
	// stretchMM and stretchShare: lengths between neighbouring pairs that differ by more are another length; one costs no
	// more than stretchCost, since the shafts of stair balusters differ by design: half of what two stations without
	// partners cost at an end, so that a shaft of another length that is also chipped there still has its end.
	stretchMM, stretchShare, stretchCost = 2.0, 0.15, 0.3
	// unlike pairs are taken apart again.
	unlikeCost = 1.0
	// mostSkipped bounds how many stations in a row may find no partner on one side, inside the piece.
	mostSkipped = 8
)

// pair joins station o of one piece with station c of another.
type pair struct{ o, c int }

// match pairs the stations of two pieces in order at the least cost (dynamic programming, as for sequences), whatever
// their lengths. cost is the whole cost.
func match(a, b []mark) (pairs []pair, cost float64) {
	n, m := len(a), len(b)
	best, from := table(n, m), make(map[pair]pair)
	last, cost := pair{-1, -1}, skipCost*float64(n+m)/2
	for i := range a {
		for j := range b {
			u := unlike(a[i], b[j])
			if math.IsInf(u, 1) {
				continue
			}
			best[i][j] = u + skipCost*float64(i+j)/2
			for p := max(0, i-1-mostSkipped); p < i; p++ {
				for q := max(0, j-1-mostSkipped); q < j; q++ {
					c := best[p][q] + u + skipCost*float64(i-p+j-q-2) + stretch(a[i].x-a[p].x, b[j].x-b[q].x)
					if c < best[i][j] {
						best[i][j], from[pair{i, j}] = c, pair{p, q}
					}
				}
			}
			if c := best[i][j] + skipCost*float64(n-1-i+m-1-j)/2; c < cost {
				cost, last = c, pair{i, j}
			}
		}
	}
	return follow(last, from, a, b), cost
}

func table(n, m int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, m)
		for j := range out[i] {
			out[i][j] = math.Inf(1)
		}
	}
	return out
}

// follow collects the pairs that lead to last, in order, without the unlike ones.
func follow(last pair, from map[pair]pair, a, b []mark) []pair {
	var back []pair
	for at, ok := last, last.o >= 0; ok; at, ok = from[at] {
		back = append(back, at)
	}
	var out []pair
	for i := len(back) - 1; i >= 0; i-- {
		if p := back[i]; unlike(a[p.o], b[p.c]) < unlikeCost {
			out = append(out, p)
		}
	}
	return out
}

// unlike is what pairing two stations costs; infinite for different roles.
func unlike(a, b mark) float64 {
	if a.role != b.role {
		return math.Inf(1)
	}
	return (unlikeFace(a.before, b.before) + unlikeFace(a.after, b.after)) / 2
}

func unlikeFace(a, b face) float64 {
	switch {
	case !a.ok && !b.ok:
		return 0
	case a.ok != b.ok:
		return endCost
	}
	d := (a.d - b.d) / (alikeMM + alikeShare*math.Max(a.d, b.d))
	c := math.Min(1, d*d)
	if family(a.kind) != family(b.kind) {
		c += kindCost
	}
	return c
}

func stretch(a, b float64) float64 {
	d := (a - b) / (stretchMM + stretchShare*math.Max(a, b))
	return stretchCost * math.Min(1, d*d)
}

// family joins kinds that a fit or a maker may take for one another.
func family(k profile.Kind) profile.Kind {
	switch k {
	case profile.Fillet, profile.Cylinder, profile.Taper, profile.Swell:
		return profile.Cylinder
	case profile.Bead, profile.HalfBead:
		return profile.Bead
	case profile.Cove, profile.HalfCove:
		return profile.Cove
	}
	return k
}

// carry takes station x of the first piece to the second along the pairs: in proportion between two of them, by the same
// distance beyond the first and the last. Without pairs it moves x by shift.
func carry(x float64, pairs []pair, a, b []mark, shift float64) float64 {
	if len(pairs) == 0 {
		return x + shift
	}
	prev := pairs[0]
	if x <= a[prev.o].x {
		return x - a[prev.o].x + b[prev.c].x
	}
	for _, p := range pairs[1:] {
		if x <= a[p.o].x {
			w := 1.0
			if l := a[p.o].x - a[prev.o].x; l > 0 {
				w = (x - a[prev.o].x) / l
			}
			return b[prev.c].x + w*(b[p.c].x-b[prev.c].x)
		}
		prev = p
	}
	return x - a[prev.o].x + b[prev.c].x
}
