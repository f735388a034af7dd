package vision

import "gonum.org/v1/gonum/spatial/r2"

// pattern compares a picture with the squares of a board of cols columns of corners that lies as h says, h counting from
// corner (top, left) of the board.
type pattern struct {
	g         gray
	h         homography
	left, top int
	cols      int
}

// point is the picture of a point of the board's frame.
func (t pattern) point(x, y float64) r2.Vec {
	return t.h.apply(r2.Vec{X: x - float64(t.left), Y: y - float64(t.top)})
}

// square is the value at the centre of a square; those just outside the board lie on its white margin.
func (t pattern) square(row, col int) float64 {
	return t.g.at(t.point(float64(col)-0.5, float64(row)-0.5))
}

// legal tells whether the squares are black and white in turn and all around them is white, and whether the square at (0, 0) is black.
func (t pattern) legal() (blackFirst, ok bool) {
	right, all := 0, 0
	for r := range boardRows {
		for c := range t.cols + 1 {
			for _, n := range [2]node{{r, c + 1}, {r + 1, c}} {
				if n.i >= boardRows || n.j > t.cols {
					continue
				}
				all++
				if (t.square(r, c) < t.square(n.i, n.j)) == ((r+c)%2 == 0) {
					right++
				}
			}
		}
	}
	share := float64(right) / float64(all)
	blackFirst = share > 0.5
	if share < boardPatternLimit && share > 1-boardPatternLimit {
		return blackFirst, false
	}
	last := t.cols
	for _, side := range [4]struct{ from, along, out node }{
		{node{0, 0}, node{0, 1}, node{-1, 0}}, {node{boardRows - 1, 0}, node{0, 1}, node{1, 0}},
		{node{0, 0}, node{1, 0}, node{0, -1}}, {node{0, last}, node{1, 0}, node{0, 1}},
	} {
		if t.whiteBeyond(side.from, side.along, side.out, blackFirst) < boardSideLimit {
			return blackFirst, false
		}
	}
	return blackFirst, true
}

// whiteBeyond is the part of the squares along a side of the board that differ from the next as they should, and beyond which it is
// nearer to the white one of the two.
func (t pattern) whiteBeyond(from, along, out node, blackFirst bool) float64 {
	n := boardRows
	if along.j == 1 {
		n = t.cols + 1
	}
	white := 0
	for k := range n {
		at := node{from.i + k*along.i, from.j + k*along.j}
		other := node{at.i + along.i, at.j + along.j}
		if k == n-1 {
			other = node{at.i - along.i, at.j - along.j}
		}
		a, b := t.square(at.i, at.j), t.square(other.i, other.j)
		black := (at.i+at.j)%2 == 0 == blackFirst
		if (a < b) == black && t.square(at.i+out.i, at.j+out.j) > (a+b)/2 {
			white++
		}
	}
	return float64(white) / float64(n)
}
