package vision

import (
	"math"
)

// The pull of the mirrored silhouette on one side: weak, so that a chip stays visible and the labels
// decide, but enough to choose between two edges that look alike.
const (
	pullCost = 0.15 // per sample off the mirrored half-width
	pullCap  = 2.0
)

// sidePath finds one edge by itself: for each column how many rows from the middle line outward the
// piece covers (0: none). sign is -1 towards row 0 (the left side) and +1 the other way; middle is the
// row of the middle line and expect the half-width of the mirrored silhouette, both in samples.
func sidePath(s *strip, q labels, rise []float32, sign int, middle, expect []float64) []int {
	width := s.mid - 1
	from := make([]int32, s.nx*width)
	cur, reach := make([]float32, width), make([]float32, width)
	labels, rises := newColumns(q, s.nx, s.ny), newColumns(rise, s.nx, s.ny)
	for i := range s.nx {
		label, edge := labels.at(i), rises.at(i)
		if i > 0 {
			stepped(cur, reach, from[i*width:(i+1)*width], 0)
		}
		start := int(math.Round(middle[i]))
		sum := float32(0)
		for w := range width {
			j := start + sign*w
			if j < 0 || j >= s.ny {
				cur[w] = math.MaxFloat32 / 4
				continue
			}
			if w > 0 {
				sum += label[j]
			}
			pull := min(pullCost*math.Abs(float64(w)-expect[i]), pullCap)
			cur[w] = reach[w] - 2*sum + float32(pull)
			if w > 0 {
				cur[w] -= edgeGain * edge[j]
			}
		}
	}
	out := make([]int, s.nx)
	w := lowest(cur)
	for i := s.nx - 1; i >= 0; i-- {
		out[i] = w
		if i > 0 {
			w = int(from[i*width+w])
		}
	}
	return out
}

// lowest is the index of the smallest value.
func lowest(v []float32) int {
	at := 0
	for i := range v {
		if v[i] < v[at] {
			at = i
		}
	}
	return at
}
