package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// The body of a rule, grown from its graduations.
const (
	ruleBodyReach = 45.0 // mm to either side: rules are 13 to 40 mm wide (common practice, no source)
	ruleBodyTones = 45.0 // distance of tones between the body at the graduations, which darken it, and elsewhere
	ruleEdgeReach = 12.0 // mm: graduations run up to one edge of the body, lines are up to 10 mm long (common practice, no source)
	ruleBodySeam  = 5.0  // px at the rim that mix with what lies around
	ruleBodyLooks = 500  // places looked at along a line; graduations darken less than half of them
)

// ruleBody grows the body of a rule from its graduations to its edges. None if it melts into its
// surroundings, or only two marks are known, which need not lie on the body.
func (r *raster) ruleBody(rule *view.Rule) []r2.Vec {
	n := len(rule.P)
	if n < 3 {
		return nil
	}
	f := newFrame(rule.P[0], rule.P[n-1])
	length := math.Abs(rule.T[n-1] - rule.T[0])
	if !(f.L > 1 && length > 0) {
		return nil
	}
	seed := r.median(f.at(0, 0), f.at(f.L, 0))
	like := func(a, b r2.Vec) bool { return dist(r.median(a, b), seed) < ruleBodyTones }
	step, reach := math.Max(1, f.L/1000), ruleBodyReach*f.L/length
	var across, along [2]float64
	for k, sign := range [2]float64{-1, 1} {
		for y := sign * step; math.Abs(y) < reach && like(f.at(0, y), f.at(f.L, y)); y += sign * step {
			across[k] = math.Abs(y)
		}
	}
	near := 0
	if across[1] < across[0] {
		near = 1
	}
	y := float64(2*near-1) * (across[near] + step)
	seen := within(r.border(), f.at(f.L/2, y))
	if !seen || across[near] > ruleEdgeReach*f.L/length || across[0]+across[1] > reach {
		return nil
	}
	lo, hi := -across[0], across[1]
	for k, end := range [2]float64{0, f.L} {
		sign := float64(2*k - 1)
		for x := step; x < f.L && like(f.at(end+sign*x, lo), f.at(end+sign*x, hi)); x += step {
			along[k] = x
		}
	}
	x0, x1 := -along[0]-ruleBodySeam, f.L+along[1]+ruleBodySeam
	lo, hi = lo-ruleBodySeam, hi+ruleBodySeam
	return []r2.Vec{f.at(x0, lo), f.at(x1, lo), f.at(x1, hi), f.at(x0, hi)}
}

// border is the outline of the picture.
func (r *raster) border() []r2.Vec {
	w, h := float64(r.w-1), float64(r.h-1)
	return []r2.Vec{{}, {X: w}, {X: w, Y: h}, {Y: h}}
}

// median is the median tone along the line from a to b (px); a tone that nothing is like if less than
// half of it lies in the picture.
func (r *raster) median(a, b r2.Vec) colour {
	var t toneCount
	d := r2.Sub(b, a)
	n := min(max(1, int(r2.Norm(d))), ruleBodyLooks)
	seen := 0
	for i := range n {
		if c, ok := r.toneAt(r2.Add(a, r2.Scale((float64(i)+0.5)/float64(n), d))); ok {
			t.add(c)
			seen++
		}
	}
	if 2*seen < n {
		return colour{-255, -255, -255}
	}
	return t.median()
}
