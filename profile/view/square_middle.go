package view

import (
	"math"
	"sort"
)

const (
	// slantPx is how far off the axis the middle of a square's edges must seem before a square between round parts can be
	// told from them, px, and slantShare by how much it may differ from what the square would make, as a fraction.
	slantPx, slantShare = 1.5, 0.3
	// middleStep is the spacing at which squares are looked for, mm.
	middleStep = 1.0
	// leastMiddle is the least length of a square between round parts, in half sides.
	leastMiddle = 0.8
)

// findSquares finds the stretches of square section: those that the user marked, from square ends inward, and then those that seem off the axis as
// a square of the same roll does, and those whose walls are straight. A square that the camera looks at flat on between
// turned shoulders looks round.
func (a placed) findSquares() []squareStretch {
	shared := squareStretch{roll: a.flatRoll(), sigmaRoll: flatSigma}
	a.squares = a.markedSquares()
	for e, end := range a.ends {
		if !end.square || a.holdsSquare(end.x) {
			continue
		}
		q := squareStretch{x0: end.x, x1: end.x, half: end.face.half, roll: end.face.roll, sigmaRoll: end.face.sigmaRoll}
		inward := float64(1 - 2*e)
		x, ok := a.grow(q, end.x+inward*leastStretch*q.half, inward)
		if !ok {
			continue
		}
		q.x0, q.x1 = math.Min(q.x0, x), math.Max(q.x1, x)
		q.half = a.typicalHalf(q)
		shared = q
		a.squares = append(a.squares, q)
	}
	a.squares = append(a.squares, a.middleSquares(shared)...)
	return append(a.squares, a.walledSquares(shared)...)
}

// sameSquares returns the squares of a scene that is nearly this one, as they are read here: a variant must not lose one
// whose edges stand at the limit, nor find another.
func (a placed) sameSquares(known []squareStretch) []squareStretch {
	out := make([]squareStretch, len(known))
	for i, q := range known {
		q.x0, q.x1 = q.x0+a.ends[0].x, q.x1+a.ends[0].x
		if end := a.ends[0]; end.square && q.x0 < end.x+q.half {
			q.x0, q.roll, q.sigmaRoll = end.x, end.face.roll, end.face.sigmaRoll
		}
		if end := a.ends[1]; end.square && q.x1 > end.x-q.half {
			q.x1, q.roll, q.sigmaRoll = end.x, end.face.roll, end.face.sigmaRoll
		}
		q.half = a.typicalHalf(q)
		out[i] = q
	}
	return out
}

// middleSquares finds squares between round parts that are rolled like another.
func (a placed) middleSquares(like squareStretch) []squareStretch {
	var out []squareStretch
	var halves, at []float64
	flush := func() {
		if n := len(halves); n > 0 && at[n-1]-at[0] >= leastMiddle*halves[0] {
			mid := at[n/2]
			q := like
			q.half = median(halves)
			x0, before := a.grow(q, mid, -1)
			x1, after := a.grow(q, mid, 1)
			if before && after {
				q.x0, q.x1 = x0, x1
				q.half = a.typicalHalf(q)
				out = append(out, q)
			}
		}
		halves, at = nil, nil
	}
	for x := a.ends[0].x; x < a.ends[1].x; x += middleStep {
		half, ok := a.slanted(like, x)
		if _, known := a.besideSquare(x); !ok || known {
			flush()
			continue
		}
		if len(halves) > 0 && math.Abs(half/halves[0]-1) > sameSquare {
			flush()
		}
		halves, at = append(halves, half), append(at, x)
	}
	flush()
	return out
}

// typicalHalf is the median of what both edges read along a stretch, mm.
func (a placed) typicalHalf(q squareStretch) float64 {
	const places = 31
	var halves []float64
	for i := range places {
		x := q.x0 + (q.x1-q.x0)*(float64(i)+0.5)/places
		if p, r := a.readSquare(q, 0, x), a.readSquare(q, 1, x); p.ok && r.ok {
			halves = append(halves, (p.r+r.r)/2)
		}
	}
	if len(halves) == 0 {
		return q.half
	}
	return median(halves)
}

// slanted returns half the side of the square rolled like q whose edges would be seen where the two sides are at station
// x; false where no square would seem off the axis as the sides do.
func (a placed) slanted(q squareStretch, x float64) (float64, bool) {
	u := a.p.U(x)
	v0, ok0 := a.contours[0].outermost(u)
	v1, ok1 := a.contours[1].outermost(u)
	if !ok0 || !ok1 {
		return 0, false
	}
	q.half = (v0 + v1) / 2 * a.p.D
	for range 4 {
		q.half = (q.corner(a.p.D, 0).half(v0, a.p.D) + q.corner(a.p.D, 1).half(v1, a.p.D)) / 2
	}
	want := q.slant(a.p.D)
	px := a.p.MMPerPixel(x) / a.p.D
	return q.half, math.Abs(want) > slantPx*px && math.Abs((v1-v0)/2-want) < slantShare*math.Abs(want)
}

// outermost returns how far out the contour is at u.
func (c *contour) outermost(u float64) (float64, bool) {
	best := math.Inf(-1)
	for i := max(1, sort.SearchFloat64s(c.before, u)); i < len(c.u) && c.after[i-1] <= u; i++ {
		if !c.gap[i] && (c.u[i]-u)*(c.u[i-1]-u) <= 0 {
			best = math.Max(best, (c.v[i]+c.v[i-1])/2)
		}
	}
	return best, !math.IsInf(best, -1)
}

// unslanted returns the plane of symmetry once more, with the squares' edges where they belong: the middle of a
// square's edges lies off the axis unless the camera looks at it flat or corner on.
func (a placed) unslanted() (m meridianPlane, moved float64) {
	m = meridianPlane{x: a.p.x, y: a.p.y, z: a.p.z}
	mids := middles(&a.contours[0], &a.contours[1])
	kept := mids[:0]
	for _, mid := range mids {
		if q, ok := a.square(a.p.Station(mid.u)); ok && a.showsSquare(q, mid.u) {
			mid.v -= q.slant(a.p.D)
		} else if _, beside := a.besideSquare(a.p.Station(mid.u)); beside {
			continue
		}
		kept = append(kept, mid)
	}
	start, ok := firstLine(kept)
	if !ok {
		return m, 0
	}
	line := robustLine(kept, start)
	return m.turned(line.a, line.b), math.Abs(line.a) + math.Abs(line.b)
}

// showsSquare reports whether both edges at u are those of the square.
func (a placed) showsSquare(q squareStretch, u float64) bool {
	for side := range 2 {
		x := a.p.Foot + u*q.corner(a.p.D, side).depth(q.half, a.p.D)
		if x < q.x0 || x > q.x1 {
			return false
		}
	}
	return true
}
