package vision

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// endNormal is the least cosine between the normal and the axis that makes a point at an end of the
// contour a point of the end face: 45 degrees parts the ellipse of a face from the side behind it.
const endNormal = 0.7

// edgeSigma is the standard deviation claimed at best, px: what unmodelled shading and the grain of
// the wood leave even where the noise is small.
const edgeSigma = 0.08

// points turns the fits into edge points in contour order, and says which of them hold.
func points(fits []edgeFit, c *cover) (out []view.EdgePoint, good []bool) {
	out, good = make([]view.EdgePoint, len(fits)), make([]bool, len(fits))
	for i, f := range fits {
		at := f.at() + f.blur()*f.blur()*f.bend/2 // blur draws the edge of a bulge inward by that much
		p := r2.Add(f.p, r2.Scale(at, f.n))
		out[i] = view.EdgePoint{P: p, N: f.n, Sigma: math.Hypot(math.Hypot(f.step.Sigma, edgeSigma), f.cornerSigma()), State: profile.Visible}
		good[i] = f.OK && !c.hides(p)
	}
	return out, good
}

// cornerSigma is how far the blur displaces an edge that ends in a square corner nearby: where the
// other flank takes away the share 1 - q of the light, the half level moves by blur times the normal
// quantile of 1/(2q).
func (f *edgeFit) cornerSigma() float64 {
	if math.IsInf(f.corner, 1) {
		return 0
	}
	q := phi(math.Max(f.corner-alongReach/2, 0) / math.Max(f.blur(), 0.5))
	x := math.Min(1/(2*q), 0.95)
	return f.blur() * math.Sqrt2 * math.Erfinv(2*x-1)
}

// split parts the closed contour into the two sides and the two ends. Points without a fit are left out.
func split(pts []view.EdgePoint, good []bool, f frame) (sides, ends [2][]view.EdgePoint) {
	first, last := extremes(pts, f)
	a0, a1 := endRun(pts, f, first, -1)
	b0, b1 := endRun(pts, f, last, 1)
	n := len(pts)
	run := func(from, to int) (out []view.EdgePoint) { // from..to inclusive, walking round
		for i := from; ; i = (i + 1) % n {
			if good[i] {
				out = append(out, pts[i])
			}
			if i == to {
				return out
			}
		}
	}
	sides[0] = run((a1+1)%n, (b0+n-1)%n)
	sides[1] = run((b1+1)%n, (a0+n-1)%n)
	slices.Reverse(sides[1])
	ends[0] = run(a0, a1)
	slices.Reverse(ends[0])
	ends[1] = run(b0, b1)
	slices.Reverse(ends[0])
	return sides, ends
}

// extremes are the contour points next to where the axis enters and leaves the piece.
func extremes(pts []view.EdgePoint, f frame) (first, last int) {
	lo, hi := math.Inf(1), math.Inf(-1)
	x0, y0 := f.of(pts[len(pts)-1].P)
	for i, p := range pts {
		x, y := f.of(p.P)
		if y == 0 || (y > 0) != (y0 > 0) {
			at := x0
			if y != y0 {
				at += (x - x0) * y0 / (y0 - y)
			}
			if at < lo {
				lo, first = at, i
			}
			if at > hi {
				hi, last = at, i
			}
		}
		x0, y0 = x, y
	}
	return first, last
}

// endRun is the run of points about index at whose normals look along the axis; sign is -1 at the
// first end and +1 at the last. At least the point itself belongs.
func endRun(pts []view.EdgePoint, f frame, at, sign int) (from, to int) {
	n := len(pts)
	face := func(i int) bool {
		i = (i%n + n) % n
		return float64(sign)*r2.Dot(pts[i].N, f.E) > endNormal
	}
	from, to = at, at
	for k := 1; k < n/4 && (face(at-k) || face(at-k-1) || face(at-k-2)); k++ {
		from = at - k
	}
	for k := 1; k < n/4 && (face(at+k) || face(at+k+1) || face(at+k+2)); k++ {
		to = at + k
	}
	return (from%n + n) % n, to % n
}
