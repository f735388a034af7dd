package plan

import "sort"

// Setting is one setting of the calipers and the cuts made with it.
type Setting struct {
	Diameter float64 // mm: the largest that its cuts ask for, so that none goes under size
	Cuts     []int   // indices of Plan.Cuts, from the hook end on
}

// settings divides the cuts into the fewest settings whose diameters span no more than group mm, the largest first, and
// tells each cut its own. Taking them from the smallest up, each setting as wide as it may be, is the least number
// (covering points of a line with intervals of one length).
func settings(cuts []Cut, group float64) []Setting {
	order := make([]int, len(cuts))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return cuts[order[a]].Diameter < cuts[order[b]].Diameter })
	var out []Setting
	for i := 0; i < len(order); {
		var s Setting
		smallest := cuts[order[i]].Diameter
		for ; i < len(order) && cuts[order[i]].Diameter <= smallest+group+rounding; i++ {
			s.Diameter = cuts[order[i]].Diameter
			s.Cuts = append(s.Cuts, order[i])
		}
		sort.Ints(s.Cuts)
		out = append(out, s)
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	for i, s := range out {
		for _, c := range s.Cuts {
			cuts[c].Group = i
		}
	}
	return out
}

// rounding lets equal diameters be equal after sums of them, mm.
const rounding = 1e-9
