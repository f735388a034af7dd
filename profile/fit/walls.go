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

// walls takes a step down and a step up that follow one another as the walls of a vee: seen along the piece, a wall
// looks like the outline of the rim above it, but a groove with two upright faces and no floor is no turner's cut.
func (c *cutter) walls(pieces []piece) []piece {
	for k := 0; k+1 < len(pieces); k++ {
		a, b := pieces[k], pieces[k+1]
		if !wallLike(a) || !wallLike(b) || a.shape == line && b.shape == line || a.i == 0 || b.j >= len(c.pts) {
			continue
		}
		rim, far := c.pts[a.i-1], c.pts[b.j]
		fall, rise := rim.r-c.pts[a.j-1].r, far.r-c.pts[b.i].r
		low, high := math.Min(fall, rise), math.Max(fall, rise)
		if low < leastVee || low < veeShare*high || far.x-rim.x > veeWidth*rim.r {
			continue
		}
		if slope := high / (far.x - rim.x); slope < 0.25 || slope > 2 {
			continue
		}
		pieces[k].shape, pieces[k+1].shape = line, line
	}
	return pieces
}

// wallLike reports whether a piece may be a wall.
func wallLike(p piece) bool { return (p.shape == line || p.shape == steep) && p.j-p.i >= 2 }
