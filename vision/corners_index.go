package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	indexCell  = 16.0 // px: about the distance of corners, so that a cell holds one or none
	indexReach = 200  // px: the longest step of a grid that is looked for
)

// cornerIndex finds corners near a point through square cells.
type cornerIndex struct {
	cs            []corner
	columns, rows int
	cells         [][]int32 // row-major
}

func newCornerIndex(cs []corner) *cornerIndex {
	ix := &cornerIndex{cs: cs}
	for _, c := range cs {
		x, y := cellOf(c.p)
		ix.columns, ix.rows = max(ix.columns, x+1), max(ix.rows, y+1)
	}
	ix.cells = make([][]int32, ix.columns*ix.rows)
	for k, c := range cs {
		x, y := cellOf(c.p)
		ix.cells[y*ix.columns+x] = append(ix.cells[y*ix.columns+x], int32(k))
	}
	return ix
}

// cellOf is the column and row of the cell of a point.
func cellOf(p r2.Vec) (x, y int) {
	return int(math.Floor(p.X / indexCell)), int(math.Floor(p.Y / indexCell))
}

// nearest is the corner nearest to p, at most reach away, that fits; -1 if there is none.
func (ix *cornerIndex) nearest(p r2.Vec, reach float64, fits func(k int) bool) int {
	best, dist := -1, reach
	cx, cy := cellOf(p)
	for ring := 0; float64(ring-1)*indexCell <= dist; ring++ {
		for y := max(cy-ring, 0); y <= min(cy+ring, ix.rows-1); y++ {
			step := 1
			if y > cy-ring && y < cy+ring {
				step = 2 * ring // inside, the ring is two cells wide apart
			}
			for x := cx - ring; x <= cx+ring; x += max(step, 1) {
				if x < 0 || x >= ix.columns {
					continue
				}
				for _, k := range ix.cells[y*ix.columns+x] {
					if d := r2.Norm(r2.Sub(ix.cs[k].p, p)); d <= dist && fits(int(k)) {
						best, dist = int(k), d
					}
				}
			}
		}
	}
	return best
}
