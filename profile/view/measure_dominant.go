package view

import (
	"fmt"
	"math"

	"spindlestick/profile"
)

// cause is one contribution to the uncertainty of a typical diameter, with what would make it smaller.
type cause struct {
	u      float64 // expanded, mm
	reason string
}

// dominant says how good diameters and length are, and names the largest contribution at the median sample. What the
// station's uncertainty does on slopes is left out: calipers go to crests and level places.
func (g gauged) dominant(at placed, t profile.Trace, b budget) string {
	print := g.printSigma(b)
	var terms [5][]float64
	var all []float64
	for i, s := range t.Samples {
		if s.State != profile.Visible {
			continue
		}
		d := 2 * s.R
		camera := math.Sqrt(max(0, b.scene[i]*b.scene[i]-print*print))
		sum := 0.0
		for k, u := range [5]float64{d * b.height, d * print, d * camera, math.Hypot(b.bias[i], b.edge[i]), b.asym[i]} {
			terms[k] = append(terms[k], 2*u)
			sum += 4 * u * u
		}
		all = append(all, math.Sqrt(sum))
	}
	if len(all) == 0 {
		return "Nothing of the piece is seen from both sides."
	}
	var worst cause
	for k, reason := range [5]string{
		g.heightReason(at), g.printReason, g.cameraReason(at),
		fmt.Sprintf("how sharply the edges are seen at %.2f mm a pixel: fill the frame, focus, use softer light and a plainer ground", at.p.MMPerPixel(t.Length/2)),
		"the difference of the two sides of the outline: the piece is oval, worn, or the edge is shaded on one side",
	} {
		if u := median(terms[k]); u > worst.u {
			worst = cause{u, reason}
		}
	}
	return fmt.Sprintf("Diameters are good to about ±%.2f mm, the length to ±%.1f mm. Most of the diameters' share (%.2f mm) is %s.",
		median(all), t.ULength, worst.u, worst.reason)
}

// printSigma is the standard deviation of what the scale is taken to measure, as a fraction.
func (g gauged) printSigma(b budget) float64 {
	if g.free {
		return b.known
	}
	return g.ref.SigmaScale
}

// heightReason says what the height's part is made of.
func (g gauged) heightReason(at placed) string {
	away := at.p.D / 1000
	if g.height.Mode == Raised {
		return fmt.Sprintf("how exactly the scale was raised to the axis, with the camera %.1f m away: stand back", away)
	}
	return fmt.Sprintf("how high the axis lies above the scale (%.0f mm, with the camera %.1f m away): raise the scale to the axis, or stand back", at.above(), away)
}

// above is how high the axis' middle lies over the scale, mm.
func (a placed) above() float64 { return (a.height[0] + a.height[1]) / 2 }

// leastAbove is from which height on, mm, the camera's distance matters more than its tilt.
const leastAbove = 5

// cameraReason says what the camera's part is mostly made of.
func (g gauged) cameraReason(at placed) string {
	if g.squareReason == "" && !g.ref.FocalObserved && math.Abs(at.above()) > leastAbove {
		return fmt.Sprintf("the camera's focal length, since the axis lies %.0f mm above the scale: raise the scale to the axis, measure the camera once, or state its focal length or the piece's length by tape", at.above())
	}
	if g.squareReason != "" {
		return g.squareReason
	}
	return "how the scale shows the camera's tilt: put boards at both ends of the piece"
}
