package sizing

import (
	"math"
	"sort"
)

// Setting is one setting of the calipers and the cuts made with it.
type Setting struct {
	Diameter float64 // mm: the largest that its cuts ask for, so that none goes under size
	Finished float64 // mm: the largest finished diameter of its cuts
	Letter   string  // of a setting that serves more than one cut; the largest is a
	Cuts     []int   // indices of the cuts, from the hook end on
}

// settings divides the cuts into the fewest settings of which none leaves more than group mm too much, or a tenth where
// sanding alone follows; the largest first. It tells each cut its own. To set for the cut that bears least and to take in
// all others that this serves, again and again, is the least number (points that meet intervals of a line).
func settings(cuts []Cut, group float64) []Setting {
	left := make([]int, len(cuts))
	for i := range left {
		left[i] = i
	}
	sort.SliceStable(left, func(a, b int) bool { return bears(cuts[left[a]], group) < bears(cuts[left[b]], group) })
	var out []Setting
	for len(left) > 0 {
		var s Setting
		var rest []int
		reach := bears(cuts[left[0]], group)
		for _, i := range left {
			if cuts[i].Diameter > reach+rounding {
				rest = append(rest, i)
				continue
			}
			s.Diameter, s.Finished = math.Max(s.Diameter, cuts[i].Diameter), math.Max(s.Finished, cuts[i].Finished)
			s.Cuts = append(s.Cuts, i)
		}
		sort.Ints(s.Cuts)
		out, left = append(out, s), rest
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Diameter > out[b].Diameter })
	letters := 0
	for i := range out {
		for _, c := range out[i].Cuts {
			cuts[c].Setting = i
		}
		if len(out[i].Cuts) > 1 {
			out[i].Letter = letter(letters)
			letters++
		}
	}
	return out
}

// bears is the largest setting that a cut bears, mm.
func bears(c Cut, group float64) float64 {
	if c.Place == Top {
		return c.Diameter + math.Min(group, sandedGroup)
	}
	return c.Diameter + group
}

// letter is a, b, ... z, aa, bb, ...: capitals name the joins of sheets.
func letter(n int) string {
	name := ""
	for range n/26 + 1 {
		name += string(rune('a' + n%26))
	}
	return name
}

// rounding lets equal diameters be equal after sums of them, mm.
const rounding = 1e-9
