package check

import "math"

// Point is one point of the deviation curve, mm. Places are compared as aligned: an edge that stands elsewhere on the
// copy shows as a spike as wide as it is off.
type Point struct {
	X         float64
	Original  float64 // diameter
	Copy      float64
	Deviation float64 // copy - original
	U         float64 // expanded
	Verdict   Verdict
}

// curveStep is the distance of the curve's points, mm.
const curveStep = 0.25

// curve compares the diameters along the original. The original is what its pattern says, the copy what was measured of
// it; stretches that either piece does not have are left out.
func curve(o, c Piece, shift, tol float64) []Point {
	var out []Point
	n := int(math.Floor(o.length()/curveStep + 1e-9))
	for i := range n + 1 {
		x := float64(i) * curveStep
		a, b := o.drawn(x), c.measured(x+shift)
		if !a.ok || !b.ok {
			continue
		}
		p := Point{X: x, Original: a.d, Copy: b.d, Deviation: b.d - a.d, Verdict: NotSeen}
		p.U = combined(o, c, x, shift, a.u, b.u)
		if a.seen && b.seen && o.flat(x) == c.flat(x+shift) {
			p.Verdict = judge(p.Deviation, p.U, tol)
		}
		out = append(out, p)
	}
	return out
}

// combined is the root sum of squares (GUM, uncorrelated) of both diameters' uncertainties and of what the places'
// uncertainties make of them where the profile is not level.
func combined(o, c Piece, x, shift, ua, ub float64) float64 {
	va := wander(o.drawn, x, o.placed(x))
	vb := wander(c.measured, x+shift, c.placed(x+shift))
	return math.Sqrt(ua*ua + ub*ub + va*va + vb*vb)
}
