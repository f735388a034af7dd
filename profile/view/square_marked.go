package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// squareMark is a stretch of which the user says that it is square.
type squareMark struct {
	from, to r2.Vec  // px of the upright picture; places along the axis count
	turn     float64 // from lying flat on the reference plane, radians
}

// squareMarks returns the squares among the corrections.
func squareMarks(cs []Correction) []squareMark {
	var out []squareMark
	for _, c := range cs {
		if c.Kind == MarkSquare && len(c.Path) > 1 {
			out = append(out, squareMark{c.Path[0], c.Path[len(c.Path)-1], c.Turn})
		}
	}
	return out
}

// markedRounds bounds the search for half a side: a reading moves the corner that it is read at by a share of itself.
const markedRounds = 4

// markedSquares finds the squares that the user marked. Where their edges run on beyond the marks, or end before them,
// the edges count; where they cannot be followed, the marks do.
func (a placed) markedSquares() []squareStretch {
	var out []squareStretch
	for _, m := range a.marks {
		u0, _ := a.p.ToAxis(m.from)
		u1, _ := a.p.ToAxis(m.to)
		x0, x1 := a.p.Station(math.Min(u0, u1)), a.p.Station(math.Max(u0, u1))
		x0, x1 = math.Max(x0, a.ends[0].x), math.Min(x1, a.ends[1].x)
		q := squareStretch{x0: x0, x1: x1, roll: a.flatRoll() + m.turn, sigmaRoll: flatSigma}
		half, ok := a.halfAt(q, (x0+x1)/2)
		if !ok || x1 <= x0 {
			continue
		}
		q.half = half
		mid := (x0 + x1) / 2
		if x, ok := a.grow(q, mid, -1); ok && x < mid {
			q.x0 = math.Max(x, a.ends[0].x)
		}
		if x, ok := a.grow(q, mid, 1); ok && x > mid {
			q.x1 = math.Min(x, a.ends[1].x)
		}
		q.half = a.typicalHalf(q)
		out = append(out, q)
	}
	return out
}

// halfAt reads half the side of a square rolled like q at station x; false where either edge is not seen.
func (a placed) halfAt(q squareStretch, x float64) (float64, bool) {
	u := a.p.U(x)
	v0, ok0 := a.contours[0].outermost(u)
	v1, ok1 := a.contours[1].outermost(u)
	if !ok0 || !ok1 {
		return 0, false
	}
	q.half = (v0 + v1) / 2 * a.p.D
	for range markedRounds {
		q.half = (q.corner(a.p.D, 0).half(v0, a.p.D) + q.corner(a.p.D, 1).half(v1, a.p.D)) / 2
	}
	return q.half, q.half > 0
}

// holdsSquare reports whether station x lies in a square that is known already.
func (a placed) holdsSquare(x float64) bool {
	const slack = 1.0 // mm: an end's station and the edges' last point are found in different ways
	for _, q := range a.squares {
		if x >= q.x0-slack && x <= q.x1+slack {
			return true
		}
	}
	return false
}
