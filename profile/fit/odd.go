package fit

import "math"

// Description lengths of shapes that no turner cuts, on top of what their numbers cost.
const (
	// oddity is that of a slope or hollow as short as a fillet, and of a narrow groove with upright faces.
	oddity = 8
	// sliverOddity is that of a shape under leastShape, which blur, rounding a rim, is likelier to have made.
	sliverOddity = 30
)

// implausible is what the links of f that no turner cuts add to its description.
func (f *fitted) implausible() float64 {
	sum := 0.0
	for k := range f.links {
		sum += f.odd(k)
	}
	return sum
}

// odd is what link k adds, 0 for most.
func (f *fitted) odd(k int) float64 {
	_, isShoulder := f.ties.shoulder(k)
	switch {
	case isShoulder || f.vee(k) || k > 0 && f.vee(k-1):
		return 0
	case f.span(k) < leastShape:
		return sliverOddity
	case !f.ties.level[k] && f.stub(k), f.ties.level[k] && f.slot(k):
		return oddity
	}
	return 0
}

// slot reports whether level link k lies between two straight runs of nearly one size, narrow and sunk: what reads so is
// a vee whose walls are out of sight.
func (f *fitted) slot(k int) bool {
	if k == 0 || k == len(f.links)-1 || f.links[k-1].form != straight || f.links[k+1].form != straight {
		return false
	}
	a, r, b := f.joints[k].before, f.joints[k].after, f.joints[k+1].after
	depth := math.Min(a, b) - r
	return depth > leastVee && math.Abs(a-b) < depth/2 && f.span(k) < filletLimit(2*r)
}
