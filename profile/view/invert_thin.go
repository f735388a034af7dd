package view

import "gonum.org/v1/gonum/spatial/r2"

const (
	// thinTo is how many points of a side are enough to tell two scenes apart: on a piece of half a metre one every
	// millimetre.
	thinTo = 500
	// tipShare is the share of a side at either end that keeps all its points: they show where the piece ends.
	tipShare = 0.04
)

// thinned returns the silhouette with fewer points between the ends.
func (s silhouette) thinned() silhouette {
	for side := range s.sides {
		s.sides[side] = s.sides[side].thinned()
	}
	return s
}

func (s smoothed) thinned() smoothed {
	n := len(s.at)
	step := n / thinTo
	if step < 2 {
		return s
	}
	tip := int(tipShare * float64(n))
	out := smoothed{at: make([]r2.Vec, 0, n), sigma: make([]float64, 0, n), gap: make([]bool, 0, n)}
	parted := false
	for i := range n {
		parted = parted || s.gap[i]
		if i < tip || i >= n-tip || i%step == 0 {
			out.at, out.sigma, out.gap = append(out.at, s.at[i]), append(out.sigma, s.sigma[i]), append(out.gap, parted)
			parted = false
		}
	}
	return out
}
