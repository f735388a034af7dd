package fit

import (
	"math"

	"spindlestick/profile/view"
)

// Limits of what is read as a square seen in perspective.
const (
	// plain is the slope under which a line may be the side of a square: the camera's tilt and the square's roll
	// lean it a little.
	plain = 0.01
	// flatTolerance is how far, as a share of half the side, readings may stray from what a square gives.
	flatTolerance = 0.012
	// rolled is by how much a square that is turned about its axis by a degree and a half reads too large: cos + sin
	// of it, less one.
	rolled = 0.026
)

// flatten finds the squares of a cut that are not known, whose edges stand nearer to the camera than the axis and so read too
// large, and brings their samples to half the side. A square betrays itself at its shoulder: readings sink
// slowly from those of the near edge to half the side, where the outline turns steeply into the shoulder.
func (e eye) flatten(pts []point, pieces []piece, known []view.SquareStretch) []piece {
	largest := 0.0
	for _, p := range pts {
		largest = math.Max(largest, p.r)
	}
	for k := 0; k < len(pieces); k++ {
		p := pieces[k]
		a, b := pts[p.i], pts[p.j-1]
		if stretchOf(known, a.x, b.x) >= 0 || p.shape != line || b.x-a.x < squareShare*largest || math.Abs(b.r-a.r) > plain*(b.x-a.x) || squareSize*a.r < largest {
			continue
		}
		top := (a.r + b.r) / 2
		first, last := e.reach(pts, pieces, k, -1, top), e.reach(pts, pieces, k, 1, top)
		half, ok := e.turn(pts, pieces, last, 1, top)
		if !ok {
			half, ok = e.turn(pts, pieces, first, -1, top)
		}
		if !ok {
			continue
		}
		merged := piece{line, pieces[first].i, pieces[last].j}
		for i := merged.i; i < merged.j; i++ {
			pts[i].r = half
		}
		pieces = append(append(append([]piece(nil), pieces[:first]...), merged), pieces[last+1:]...)
		k = first
	}
	return pieces
}

// reach returns the last piece from k in direction step whose samples all lie between half the side of a square
// that reads top and top itself.
func (e eye) reach(pts []point, pieces []piece, k, step int, top float64) int {
	low := e.half(top) * (1 - rolled - flatTolerance)
	for {
		n := k + step
		if n < 0 || n >= len(pieces) {
			return k
		}
		for _, p := range pts[pieces[n].i:pieces[n].j] {
			if p.r < low || p.r > top*(1+flatTolerance) {
				return k
			}
		}
		k = n
	}
}

// turn returns half the side of the square that ends with piece k in direction step: the radius at which what
// follows turns steeply down without a step. The round there is cut by the flats, so neither perspective nor the
// square's roll changes it. It is false where nothing turns down so.
func (e eye) turn(pts []point, pieces []piece, k, step int, top float64) (float64, bool) {
	n := k + step
	if n < 0 || n >= len(pieces) || pieces[n].shape > arc {
		return 0, false
	}
	last, near, far := pts[pieces[k].j-1], pts[pieces[n].i], pts[pieces[n].j-1]
	if step < 0 {
		last, near, far = pts[pieces[k].i], far, near
	}
	fall := (near.r - far.r) / math.Max(1e-9, math.Abs(near.x-far.x))
	half := last.r
	if fall < math.Tan(shoulderAngle) || half-near.r > (fall+1)*math.Abs(near.x-last.x) {
		return 0, false
	}
	full := e.half(top)
	return half, half > full*(1-rolled-flatTolerance) && half < full*(1+flatTolerance)
}
