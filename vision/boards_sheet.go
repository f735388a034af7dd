package vision

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// sheet is a board on its way from a grid of corners to a result. Its own frame counts corners: corner (row, col) stands at
// (col, row), and square (row, col) has its centre at (col - 1/2, row - 1/2).
type sheet struct {
	corners [][]r2.Vec // boardRows-1 rows, px
	seen    [][]bool   // false where the corner was only predicted
}

func (s *sheet) cols() int     { return len(s.corners[0]) }
func (s *sheet) all() []r2.Vec { return slices.Concat(s.corners...) }

// grow takes the corners from a picture reduced by k to the photo.
func (s *sheet) grow(k int) {
	for _, row := range s.corners {
		for j := range row {
			row[j] = grow(row[j], k)
		}
	}
}

// step is the shortest side of a square, px.
func (s *sheet) step() float64 {
	least := math.Inf(1)
	for i, row := range s.corners {
		for j := range row {
			if j > 0 {
				least = math.Min(least, r2.Norm(r2.Sub(row[j], row[j-1])))
			}
			if i > 0 {
				least = math.Min(least, r2.Norm(r2.Sub(row[j], s.corners[i-1][j])))
			}
		}
	}
	return least
}

// readSheet makes a board of a table of corners, if the squares of the picture bear it out. Lines of corners that are missing at an
// edge, in a shadow perhaps, are tried in all places.
func readSheet(g gray, table [][]*r2.Vec) (*sheet, bool) {
	if len(table) == 0 {
		return nil, false
	}
	if len(table) > len(table[0]) {
		table = transpose(table)
	}
	table = righthanded(table)
	rows, cols := len(table), len(table[0])
	if rows < boardLeastRows || rows > boardRows-1 || cols < boardLeastCols || cols > boardColsMax-1 {
		return nil, false
	}
	h, ok := tableHomography(table)
	if !ok {
		return nil, false
	}
	for n := max(cols, boardColsMin-1); n < boardColsMax; n++ {
		for top := range boardRows - rows {
			for left := range n - cols + 1 {
				at := pattern{g: g, h: h, left: left, top: top, cols: n}
				if blackFirst, ok := at.legal(); ok {
					return layOut(table, at, blackFirst)
				}
			}
		}
	}
	return nil, false
}

// righthanded mirrors a table whose rows run the wrong way for a board seen from the front.
func righthanded(table [][]*r2.Vec) [][]*r2.Vec {
	var turn float64
	for i := 1; i < len(table); i++ {
		for j := 1; j < len(table[i]); j++ {
			a, b, c := table[i-1][j-1], table[i-1][j], table[i][j-1]
			if a != nil && b != nil && c != nil {
				turn += math.Copysign(1, r2.Cross(r2.Sub(*b, *a), r2.Sub(*c, *a)))
			}
		}
	}
	if turn < 0 {
		table = slices.Clone(table)
		slices.Reverse(table)
	}
	return table
}

// tableHomography fits the picture of a plane to the corners that are there, false if they are no such picture.
func tableHomography(table [][]*r2.Vec) (homography, bool) {
	var from, to []r2.Vec
	for i, row := range table {
		for j, p := range row {
			if p != nil {
				from, to = append(from, r2.Vec{X: float64(j), Y: float64(i)}), append(to, *p)
			}
		}
	}
	h, err := fitHomography(from, to)
	if err != nil {
		return h, false
	}
	_, a := spread(from)
	_, b := spread(to)
	return h, h.misfit(from, to) < boardMisfit*b/a
}

// layOut puts the corners in the order of a board; those that the table lacks come from the homography.
func layOut(table [][]*r2.Vec, at pattern, blackFirst bool) (*sheet, bool) {
	s := &sheet{}
	for i := range boardRows - 1 {
		row, seen := make([]r2.Vec, at.cols), make([]bool, at.cols)
		for j := range row {
			row[j] = at.point(float64(j), float64(i))
			if ti, tj := i-at.top, j-at.left; ti >= 0 && tj >= 0 && ti < len(table) && tj < len(table[0]) && table[ti][tj] != nil {
				row[j], seen[j] = *table[ti][tj], true
			}
		}
		s.corners, s.seen = append(s.corners, row), append(s.seen, seen)
	}
	if (at.cols+1)%2 == 1 {
		if !blackFirst {
			return nil, false // all four outer squares white: not one of the boards
		}
		if !s.readsForward() {
			s.turn()
		}
	} else if !blackFirst {
		s.turn()
	}
	return s, true
}

// readsForward tells whether the columns run to the right, or down if they run more up and down.
func (s *sheet) readsForward() bool {
	d := r2.Sub(s.corners[0][s.cols()-1], s.corners[0][0])
	if math.Abs(d.X) >= math.Abs(d.Y) {
		return d.X > 0
	}
	return d.Y > 0
}

// turn turns the board by 180 degrees.
func (s *sheet) turn() {
	slices.Reverse(s.corners)
	slices.Reverse(s.seen)
	for i := range s.corners {
		slices.Reverse(s.corners[i])
		slices.Reverse(s.seen[i])
	}
}
