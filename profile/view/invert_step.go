package view

import (
	"math"

	"spindlestick/profile"
)

const (
	// leastStep is the least change of radius between two samples that may be a square step, mm: what a slope of
	// 60 degrees makes of one sample's spacing.
	leastStep = 0.45
	// stepWidth is half the width within which a square step must happen, mm: a third of a pixel at 3 pixels a mm.
	stepWidth = 0.05
	// stepShare is the share of the change that must happen within it.
	stepShare = 0.7
	// stepHalvings find a step between two samples to a hundredth of a micrometre.
	stepHalvings = 15
)

// stepped puts two samples at one station wherever the radius jumps between neighbouring samples.
func (a placed) stepped(s []profile.Sample) []profile.Sample {
	out := make([]profile.Sample, 0, len(s)+16)
	for i, b := range s {
		if i > 0 && math.Abs(b.R-s[i-1].R) > leastStep {
			out = a.step(out, s[i-1], b)
		}
		out = append(out, b)
	}
	return out
}

// step appends the two samples of a jump between p and q, if it is one.
func (a placed) step(to []profile.Sample, p, q profile.Sample) []profile.Sample {
	lo, hi, mid := p.X, q.X, (p.R+q.R)/2
	rising := q.R > p.R
	for range stepHalvings {
		x := (lo + hi) / 2
		s := a.sampled(nil, x)
		if len(s) == 0 {
			return to
		}
		if (s[0].R > mid) == rising {
			hi = x
		} else {
			lo = x
		}
	}
	x := (lo + hi) / 2
	before, after := a.sampled(nil, math.Max(p.X, x-stepWidth)), a.sampled(nil, math.Min(q.X, x+stepWidth))
	if len(before) == 0 || len(after) == 0 || math.Abs(after[0].R-before[0].R) < stepShare*math.Abs(q.R-p.R) {
		return to
	}
	before[0].X, after[0].X = x, x
	return append(to, before[0], after[0])
}
