package profile

import (
	"math"
	"slices"
	"sort"
)

// oneSize is a diameter that may be equal to others.
type oneSize struct {
	place Place
	d, u  float64
}

// equalOffers groups the diameters that are one size within their uncertainties. A level run counts once; what a shared
// joint or a tie makes equal already counts once too.
func (p Pattern) equalOffers() []Tie {
	var out []Tie
	// What calipers reach from outside, and bottoms, are sized apart.
	for _, bottoms := range []bool{false, true} {
		out = append(out, equalIn(p.sizes(bottoms))...)
	}
	return out
}

// equalIn groups sizes that are one.
func equalIn(all []oneSize) []Tie {
	sort.SliceStable(all, func(i, j int) bool { return all[i].d < all[j].d })
	var out []Tie
	for i := 0; i < len(all); {
		j := i + 1
		// All of a group are like its first and smallest, so that no chain of small differences adds up.
		for j < len(all) && alike(all[i].d, all[i].u, all[j].d, all[j].u) {
			j++
		}
		if j-i > 1 {
			t := Tie{Kind: Equal}
			for _, s := range all[i:j] {
				t.Places = append(t.Places, s.place)
			}
			slices.SortFunc(t.Places, func(a, b Place) int { return a.Element - b.Element })
			out = append(out, t)
		}
		i = j
	}
	return out
}

// sizes lists one place for each diameter that a turner sets by itself: level runs and crests, or bottoms.
func (p Pattern) sizes(bottoms bool) []oneSize {
	var out []oneSize
	seen := map[Place]bool{}
	for i, e := range p.Elements {
		l, u := Place{i, NearEnd}, math.Max(e.U.D0, e.U.D1)
		if !e.Kind.level() || e.Kind == Square {
			l, u = Place{i, Middle}, e.U.Mid
		}
		d, _ := p.Size(l)
		apt := e.Kind != Square && e.Kind != Ogee && (l.Spot != Middle || e.peaks())
		if !apt || seen[l] || bottoms != (l.Spot == Middle && e.midRole() == Bottom) {
			continue
		}
		for _, m := range p.places(l) {
			seen[m] = true
		}
		out = append(out, oneSize{l, d, u})
	}
	return out
}
