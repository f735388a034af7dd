package fit

import "math"

// Limits of what is read as a square seen in perspective.
const (
	// plain is the slope under which a line may be the side of a square: the camera's tilt and the square's roll
	// lean it a little.
	plain = 0.01
	// flatTolerance is how far, as a share of half the side, readings may stray from what a square gives.
	flatTolerance = 0.012
)

// flatten finds the squares of a cut, whose edges stand nearer to the camera than the axis and so read too
// large, and brings their samples to half the side. A square betrays itself at its shoulder: readings sink
// slowly from those of the near edge to half the side, where the outline turns steeply into the shoulder.
func (e eye) flatten(pts []point, pieces []piece) []piece {
	largest := 0.0
	for _, p := range pts {
		largest = math.Max(largest, p.r)
	}
	for k := 0; k < len(pieces); k++ {
		p := pieces[k]
		a, b := pts[p.i], pts[p.j-1]
		if p.shape != line || b.x-a.x < squareShare*largest || math.Abs(b.r-a.r) > plain*(b.x-a.x) || squareSize*a.r < largest {
			continue
		}
		half := e.half((a.r + b.r) / 2)
		first, last := e.reach(pts, pieces, k, -1, half), e.reach(pts, pieces, k, 1, half)
		if !turnsDown(pts, pieces, first, -1, half) && !turnsDown(pts, pieces, last, 1, half) {
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

// reach returns the last piece from k in direction step whose samples all lie between half the side and the
// readings of the near edge.
func (e eye) reach(pts []point, pieces []piece, k, step int, half float64) int {
	tol := flatTolerance * half
	top := half + tol
	if e.distance > half {
		top += half * half / (e.distance - half)
	}
	for {
		n := k + step
		if n < 0 || n >= len(pieces) {
			return k
		}
		for _, p := range pts[pieces[n].i:pieces[n].j] {
			if p.r < half-tol || p.r > top {
				return k
			}
		}
		k = n
	}
}

// turnsDown reports whether what follows piece k in direction step starts at half the side and falls steeply
// without a step.
func turnsDown(pts []point, pieces []piece, k, step int, half float64) bool {
	n := k + step
	if n < 0 || n >= len(pieces) || pieces[n].shape > arc {
		return false
	}
	near, far := pts[pieces[n].i], pts[pieces[n].j-1]
	if step < 0 {
		near, far = far, near
	}
	fall := (near.r - far.r) / math.Max(1e-9, math.Abs(near.x-far.x))
	// The first sample of the shoulder lies within a sample's spacing below the flat.
	return fall > math.Tan(shoulderAngle) && math.Abs(near.r-half) < flatTolerance*half+fall*sampleSpacing
}

// sampleSpacing is the usual distance between samples, mm.
const sampleSpacing = 0.25
