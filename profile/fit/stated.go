package fit

import (
	"slices"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// stated returns the trace with half the side as the one reading of every square stretch: what the outline shows of a
// square are its edges, and the fit is to find it level and by its own diameter, not by the edges' grain.
func stated(t profile.Trace, squares []view.SquareStretch) profile.Trace {
	if len(squares) == 0 {
		return t
	}
	t.Samples = slices.Clone(t.Samples)
	for i, s := range t.Samples {
		for _, q := range squares {
			if s.X >= q.X0 && s.X <= q.X1 && s.State == profile.Visible {
				t.Samples[i].R = q.Side / 2
				t.Samples[i].Sides = [2]float64{q.Side / 2, q.Side / 2}
			}
		}
	}
	return t
}

// roll is how the squares lie about the axis, radians: as the outline shows them, else flat on the plane.
func roll(m view.Measurement) float64 {
	if len(m.Squares) > 0 {
		return m.Squares[0].Roll
	}
	return m.Scene.FlatRoll()
}
