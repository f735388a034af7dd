package fit

import "math"

const (
	// leastVee is the depth of the shallowest vee, mm.
	leastVee = 0.5
	// veeShare is the least share of one wall's height that the other has, and veeWidth the greatest width of a vee
	// against the radius it is cut into.
	veeShare = 0.5
	veeWidth = 0.6
)

// walls takes what falls and rises again between two rims, with no floor between, as the two walls of a vee: seen along
// the piece, a wall looks like the outline of the rim above it, and blur breaks up the bottom, but a groove with two
// upright faces and no floor is no turner's cut.
func (c *cutter) walls(pieces []piece) []piece {
	pieces = c.join(pieces)
	var out []piece
	for k := 0; k < len(pieces); k++ {
		m, ok := c.vee(pieces, k)
		if !ok {
			out = append(out, pieces[k])
			continue
		}
		low := pieces[k].i
		for i := pieces[k].i; i < pieces[m].j; i++ {
			if c.pts[i].r < c.pts[low].r {
				low = i
			}
		}
		// Each wall has two points at least.
		low = max(pieces[k].i+2, min(low, pieces[m].j-2))
		out = append(out, piece{line, pieces[k].i, low}, piece{line, low, pieces[m].j})
		k = m
	}
	return out
}

// vee returns the last of the pieces from k on that make up a vee, the longest there is.
func (c *cutter) vee(pieces []piece, k int) (last int, ok bool) {
	if !wallLike(pieces[k]) || pieces[k].i == 0 || c.rise(pieces[k]) >= 0 {
		return 0, false
	}
	allLines := pieces[k].shape == line
	for m := k + 1; m < len(pieces) && m-k <= mostPieces && pieces[m].j < len(c.pts); m++ {
		allLines = allLines && pieces[m].shape == line
		if m-k == 1 && allLines {
			continue // two lines are a vee already, or are not to be one
		}
		if wallLike(pieces[m]) && c.rise(pieces[m]) > 0 && c.veeBetween(pieces[k], pieces[m]) && (c.run(pieces, k-1) || c.run(pieces, m+1)) {
			last, ok = m, true
		}
		if c.floor(pieces[m]) {
			break
		}
	}
	return last, ok
}

// mostPieces is into how many pieces, after the first, blur and noise break up a vee of a few millimetres.
const mostPieces = 5

// floor reports whether a piece is long enough to be the floor of a groove, or a slope by itself.
func (c *cutter) floor(p piece) bool {
	return p.shape != steep && p.shape != stray && c.span(p) >= leastShape
}

// run reports whether piece k is a straight run that is level or tapers slightly: a vee is cut into one on one side at
// least. Between a shoulder and a bead, where neither is, stands a fillet (common practice, no source).
func (c *cutter) run(pieces []piece, k int) bool {
	const slight = 0.25 // of slope: well over any taper, well under any wall
	return k >= 0 && k < len(pieces) && pieces[k].shape == line && math.Abs(c.rise(pieces[k])) <= slight*c.span(pieces[k])
}

// veeBetween reports whether the walls a and b, and the rims beyond them, have the proportions of a vee.
func (c *cutter) veeBetween(a, b piece) bool {
	rim, far := c.pts[a.i-1], c.pts[b.j]
	bottom := c.pts[a.i].r
	for _, q := range c.pts[a.i:b.j] {
		bottom = math.Min(bottom, q.r)
	}
	fall, rise := rim.r-bottom, far.r-bottom
	low, high := math.Min(fall, rise), math.Max(fall, rise)
	if low < leastVee || low < veeShare*high || far.x-rim.x > veeWidth*rim.r {
		return false
	}
	slope := high / (far.x - rim.x)
	return slope >= 0.25 && slope <= 2
}

// join makes one of steps that follow one another the same way: with no run between them there is no floor that would
// make them two, and each alone would pass for too low a wall.
func (c *cutter) join(pieces []piece) []piece {
	var out []piece
	for _, p := range pieces {
		if n := len(out); n > 0 && p.shape == steep && out[n-1].shape == steep && c.rise(p)*c.rise(out[n-1]) > 0 {
			out[n-1].j = p.j
			continue
		}
		out = append(out, p)
	}
	return out
}

// wallLike reports whether a piece may be a wall.
func wallLike(p piece) bool { return (p.shape == line || p.shape == steep) && p.j-p.i >= 2 }
