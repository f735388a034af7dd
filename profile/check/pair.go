package check

import (
	"maps"
	"math"
	"slices"
	"sort"
)

// Pairing puts the copies of a set side by side, two by two.
type Pairing struct {
	Pairs []Pair // the most alike first
	// Alone are the copies without a partner: one of an odd number, and those of which too little is measured.
	Alone []int
	// Exact says that no other pairing has a smaller sum; otherwise no exchange between two pairs makes it smaller.
	Exact bool
}

// Pair is two copies by their indices, and how much they differ.
type Pair struct {
	A, B int
	// Mean is the mean difference of their diameters at the stations that the eye compares and both have, mm.
	Mean     float64
	Stations int // how many those are
	// Worst is the largest of the differences, and where.
	Worst, At float64
}

// leastShared is the share of the eye's stations at which both copies must be measured to be compared.
const leastShared = 0.5

// SideBySide pairs copies so that the differences a beholder sees add up to the least: of the diameters at crests, ends
// and the outer sides of steps, each pair's mean.
func SideBySide(reports []Report) Pairing {
	pairs := measuredPairs(reports)
	cost := table(len(reports), len(reports))
	for at, p := range pairs {
		cost[at[0]][at[1]], cost[at[1]][at[0]] = p.Mean, p.Mean
	}
	partner, exact := marry(cost)
	out := Pairing{Exact: exact}
	for a, b := range partner {
		switch {
		case b < 0:
			out.Alone = append(out.Alone, a)
		case a < b:
			out.Pairs = append(out.Pairs, pairs[[2]int{a, b}])
		}
	}
	sort.SliceStable(out.Pairs, func(i, j int) bool { return out.Pairs[i].Mean < out.Pairs[j].Mean })
	return out
}

// measuredPairs are the pairs of which enough is measured, by their indices in order.
func measuredPairs(reports []Report) map[[2]int]Pair {
	places, seen := map[float64]bool{}, make([]map[float64]float64, len(reports))
	for i, r := range reports {
		seen[i] = r.outline()
		for _, s := range r.Stations {
			if s.Visible {
				places[s.X] = true
			}
		}
	}
	out := map[[2]int]Pair{}
	for a := range reports {
		for b := a + 1; b < len(reports); b++ {
			p := differ(seen[a], seen[b])
			if p.Stations == 0 || float64(p.Stations) < leastShared*float64(len(places)) {
				continue
			}
			p.A, p.B = a, b
			out[[2]int{a, b}] = p
		}
	}
	return out
}

// outline are the copy's diameters that the eye sees, by the original's station: of a step the outer side.
func (r Report) outline() map[float64]float64 {
	out := map[float64]float64{}
	for _, s := range r.Stations {
		if s.Visible && !s.Absent {
			out[s.X] = math.Max(out[s.X], s.Copy)
		}
	}
	return out
}

func differ(a, b map[float64]float64) Pair {
	var p Pair
	for _, x := range slices.Sorted(maps.Keys(a)) { // in order, so that sums repeat
		e, ok := b[x]
		if !ok {
			continue
		}
		off := math.Abs(a[x] - e)
		p.Mean += off
		p.Stations++
		if off > p.Worst {
			p.Worst, p.At = off, x
		}
	}
	if p.Stations > 0 {
		p.Mean /= float64(p.Stations)
	}
	return p
}
