package view

import (
	"fmt"
	"math"

	"spindlestick/profile"
)

// leastShare is the hidden share of the length that is worth a word.
const leastShare = 0.02

// disagreement is the share of the length from which on differing sides are more than a piece's damage: half of one
// side gone is 0.5, a worn rung 0.1.
const disagreement = 0.2

// notes are what the user should know of a measurement, in plain words.
func (g gauged) notes(at placed, cut [2]bool, t profile.Trace, b budget, fit *ScaleFit) []string {
	notes := append([]string(nil), g.ref.Notes...)
	notes = append(notes, g.lying(at)...)
	if fit != nil {
		notes = append(notes, fit.Notes...)
	}
	for e, end := range at.ends {
		where := [2]string{"at 0", fmt.Sprintf("at %.1f mm", t.Length)}[e]
		if q, ok := at.square(end.x); ok && end.square {
			notes = append(notes, fmt.Sprintf("The end %s is square, %.1f mm a side.", where, 2*q.half))
		}
		if cut[e] {
			notes = append(notes, fmt.Sprintf("The piece runs out of the picture %s: its end is not there. Photograph the rest, overlapping, and join the two.", where))
			continue
		}
		if end.unsure {
			notes = append(notes, fmt.Sprintf("The end %s is neither a flat round nor a square face in the outline: measure the length by tape. Where it is broken off, the length is not known; complete it in the pattern.", where))
		}
	}
	if hidden := share(t, profile.Hidden); hidden > leastShare {
		notes = append(notes, fmt.Sprintf("%.0f %% of the length is hidden behind larger parts: a longer lens from further back shows more.", 100*hidden))
	}
	if torn := share(t, profile.Damaged); torn > disagreement {
		notes = append(notes, fmt.Sprintf("The two sides of the outline disagree over %.0f %% of the length: check that it follows the piece, not its shadow.", 100*torn))
	}
	return append(notes, g.dominant(at, t, b))
}

// lying says how the axis was placed.
func (g gauged) lying(at placed) []string {
	if g.free {
		tilt := g.tiltSigma(at)
		if tilt < heldSquare/2 {
			return nil
		}
		return []string{fmt.Sprintf("The known sizes do not show how the piece tilts: its axis is taken as square to the camera, give or take %.0f degrees.", tilt*180/math.Pi)}
	}
	lo, hi := at.height[0], at.height[1]
	switch g.height.Mode {
	case Raised, Fixed:
		return nil
	case Level:
		return []string{fmt.Sprintf("The axis lies level, %.1f mm above the scale.", lo)}
	}
	return []string{fmt.Sprintf("The piece is taken as lying freely: its axis is %.1f mm above the scale at 0 and %.1f mm at the far end. If the thin end is packed up, say that it lies level.", lo, hi)}
}

// tiltSigma is the standard deviation of the tilt of the axis towards the camera, radians.
func (g gauged) tiltSigma(at placed) float64 {
	y, sum := [3]float64{at.p.y.X, at.p.y.Y, at.p.y.Z}, 0.0
	for i := range y {
		for j := range y {
			sum += y[i] * g.ref.Cov[atTurn+i][atTurn+j] * y[j]
		}
	}
	return math.Sqrt(max(0, sum))
}

// share is the part of the samples in a state.
func share(t profile.Trace, state profile.State) float64 {
	n := 0
	for _, s := range t.Samples {
		if s.State == state {
			n++
		}
	}
	return float64(n) / float64(max(1, len(t.Samples)))
}
