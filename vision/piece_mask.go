package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// cardMargin is how far a board's card reaches beyond its inner corners, in squares: the outer
// squares, the white margin, and a little of the card's own shadow.
const cardMargin = 2.4

// ruleHalfWidth masks the graduated edge of a rule, as a share of the length between its marks.
const ruleHalfWidth = 0.004

// cover tells which parts of the picture show references and cannot show the piece.
type cover struct {
	polygons [][]r2.Vec
	boxes    []r2.Box // about each
}

// newCover outlines the boards and the rule in full-size pixels.
func newCover(boards []view.Board, rule *view.Rule, marks *view.RuleMarks) *cover {
	c := &cover{}
	for _, b := range boards {
		if q := cardOutline(b); q != nil {
			c.add(q)
		}
	}
	if rule != nil && len(rule.P) > 1 {
		c.add(ruleOutline(rule.P[0], rule.P[len(rule.P)-1]))
	}
	if marks != nil {
		c.add(ruleOutline(marks.P, marks.Q))
	}
	return c
}

// cardOutline is the outline of a board's card, extrapolated from its inner corners; nil without corners.
func cardOutline(b view.Board) []r2.Vec {
	n := len(b.Corners)
	if n < 2 || len(b.Corners[0]) < 2 {
		return nil
	}
	m := len(b.Corners[0])
	corner := func(i, j, di, dj int) r2.Vec {
		p := b.Corners[i][j]
		down := r2.Scale(1/float64(n-1), r2.Sub(b.Corners[n-1][j], b.Corners[0][j]))
		along := r2.Scale(1/float64(m-1), r2.Sub(b.Corners[i][m-1], b.Corners[i][0]))
		step := r2.Add(r2.Scale(float64(di), down), r2.Scale(float64(dj), along))
		return r2.Add(p, r2.Scale(cardMargin, step))
	}
	return []r2.Vec{corner(0, 0, -1, -1), corner(0, m-1, -1, 1), corner(n-1, m-1, 1, 1), corner(n-1, 0, 1, -1)}
}

// ruleOutline is a thin strip along the graduated edge, prolonged a little at both ends.
func ruleOutline(p, q r2.Vec) []r2.Vec {
	along := r2.Sub(q, p)
	side := r2.Scale(ruleHalfWidth, r2.Vec{X: -along.Y, Y: along.X})
	more := r2.Scale(0.02, along)
	p, q = r2.Sub(p, more), r2.Add(q, more)
	return []r2.Vec{r2.Add(p, side), r2.Add(q, side), r2.Sub(q, side), r2.Sub(p, side)}
}

// hides reports whether the full-size pixel p lies on a reference.
func (c *cover) hides(p r2.Vec) bool {
	for i, q := range c.polygons {
		if b := &c.boxes[i]; p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y && within(q, p) {
			return true
		}
	}
	return false
}

// add adds a polygon.
func (c *cover) add(q []r2.Vec) {
	b := r2.Box{Min: q[0], Max: q[0]}
	for _, p := range q {
		b.Min = r2.Vec{X: math.Min(b.Min.X, p.X), Y: math.Min(b.Min.Y, p.Y)}
		b.Max = r2.Vec{X: math.Max(b.Max.X, p.X), Y: math.Max(b.Max.Y, p.Y)}
	}
	c.polygons, c.boxes = append(c.polygons, q), append(c.boxes, b)
}

// within reports whether p lies inside the polygon q, by the parity of crossings.
func within(q []r2.Vec, p r2.Vec) bool {
	in := false
	for i, a := range q {
		b := q[(i+1)%len(q)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}
