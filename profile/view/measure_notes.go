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
	if fit != nil && !g.free {
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
			notes = append(notes, fmt.Sprintf("The end %s is neither a flat round nor a square face in the outline: measure the length by tape.", where))
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
	lo, hi := at.height[0], at.height[1]
	switch g.height.Mode {
	case Raised, Fixed:
		return nil
	case Level:
		return []string{fmt.Sprintf("The axis lies level, %.1f mm above the scale.", lo)}
	}
	return []string{fmt.Sprintf("The piece is taken as lying freely: its axis is %.1f mm above the scale at 0 and %.1f mm at the far end. If the thin end is packed up, say that it lies level.", lo, hi)}
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

// cause is one contribution to the uncertainty of a typical diameter, with what would make it smaller.
type cause struct {
	u      float64 // expanded, mm
	reason string
}

// dominant names the largest contribution at the median sample.
func (g gauged) dominant(at placed, t profile.Trace, b budget) string {
	var d, scene, edge, asym, all []float64
	for i, s := range t.Samples {
		if s.State == profile.Visible {
			d = append(d, 2*s.R)
			scene, edge, asym = append(scene, 4*s.R*b.scene[i]), append(edge, 2*b.edge[i]), append(asym, 2*b.asym[i])
			all = append(all, s.U)
		}
	}
	if len(d) == 0 {
		return "Nothing of the piece is seen from both sides."
	}
	causes := []cause{
		{2 * median(d) * b.height, g.heightReason(at)},
		{median(scene), g.sceneReason()},
		{median(edge), fmt.Sprintf("how sharply the edge is seen at %.2f mm a pixel: fill the frame, focus, use softer light", at.p.MMPerPixel(t.Length/2))},
		{median(asym), "the difference of the two sides of the outline: the piece is oval, worn, or the edge is shaded on one side"},
	}
	worst := causes[0]
	for _, c := range causes[1:] {
		if c.u > worst.u {
			worst = c
		}
	}
	return fmt.Sprintf("Diameters are good to about ±%.2f mm. Most of that (%.2f mm) is %s.", median(all), math.Abs(worst.u), worst.reason)
}

// heightReason says what the height's part is made of.
func (g gauged) heightReason(at placed) string {
	away := at.p.D / 1000
	if g.height.Mode == Raised {
		return fmt.Sprintf("how exactly the scale was raised to the axis, with the camera %.1f m away: stand back", away)
	}
	above := (at.height[0] + at.height[1]) / 2
	return fmt.Sprintf("how high the axis lies above the scale (%.0f mm, with the camera %.1f m away): raise the scale to the axis, or stand back", above, away)
}

// sceneReason says what the scene's part is mostly made of.
func (g gauged) sceneReason() string {
	switch {
	case g.free:
		return "the scale from the known sizes: measure more diameters, large ones, far apart"
	case !g.ref.FocalObserved:
		return "the camera and the scale's tilt: put boards at both ends of the piece, or state the focal length"
	}
	return "the scale itself: measure the printed squares and enter their size"
}
