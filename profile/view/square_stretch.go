package view

import "sort"

// squareStretches returns the square stretches for others to use.
func (a placed) squareStretches() []SquareStretch {
	var out []SquareStretch
	for _, q := range a.squares {
		out = append(out, SquareStretch{X0: q.x0, X1: q.x1, Side: 2 * q.half, Roll: q.roll})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].X0 < out[j].X0 })
	return out
}
