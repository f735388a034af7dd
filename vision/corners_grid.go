package vision

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// gridAngle is how far, in rad, a neighbour may lie off the direction of the squares' edges, and its own bright
	// direction off the one expected. A board tilted by 45 degrees shows its right angles as 70 degrees.
	gridAngle = 0.45
	// gridReach is how far a corner may lie from its place by extrapolation, as a part of the step there.
	gridReach = 0.3
	// gridStretch is the greatest ratio of the two steps of a grid. A step over a missed corner is three squares long.
	gridStretch = 2.2
	// gridLeast is the number of corners from which a grid is kept: fewer turn up in printed matter and wood grain.
	gridLeast = 20
	// gridMost stops the growth over a patterned ground; the largest board has 96 corners.
	gridMost = 4000
)

// node is a place in a grid of corners.
type node struct{ i, j int }

// grid holds corners by their places.
type grid struct {
	at    map[node]r2.Vec
	steps map[node][2]r2.Vec // the step along i and along j there
}

// findGrids joins corners into grids, each corner in one grid at most.
func findGrids(cs []corner) []grid {
	ix := newCornerIndex(cs)
	used := make([]bool, len(cs))
	var grids []grid
	for seed := range cs {
		if used[seed] {
			continue
		}
		g, members := growGrid(cs, ix, used, seed)
		if len(members) < gridLeast {
			continue
		}
		for _, m := range members {
			used[m] = true
		}
		grids = append(grids, g)
	}
	return grids
}

// growGrid starts at a corner and its nearest neighbours along both edges and adds corner by corner, each where its
// placed neighbours say it should be.
func growGrid(cs []corner, ix *cornerIndex, used []bool, seed int) (grid, []int) {
	steps, ok := firstSteps(cs, ix, seed)
	if !ok {
		return grid{}, nil
	}
	g := grid{at: map[node]r2.Vec{{}: cs[seed].p}, steps: map[node][2]r2.Vec{{}: steps}}
	member := map[node]int{{}: seed}
	taken := map[int]bool{seed: true}
	queue := []node{{}}
	for len(queue) > 0 && len(member) < gridMost {
		n := queue[0]
		queue = queue[1:]
		for axis := range 2 {
			for _, sign := range [2]int{1, -1} {
				to := n.next(axis, sign)
				if _, done := member[to]; done {
					continue
				}
				step := r2.Scale(float64(sign), g.steps[n][axis])
				want := r2.Add(g.at[n], step)
				k := ix.nearest(want, gridReach*r2.Norm(step), func(k int) bool {
					return !used[k] && !taken[k] && opposite(cs[member[n]], cs[k])
				})
				if k < 0 {
					continue
				}
				member[to], taken[k] = k, true
				g.place(to, cs[k].p, n, axis, sign)
				queue = append(queue, to)
			}
		}
	}
	members := make([]int, 0, len(member))
	for _, k := range member {
		members = append(members, k)
	}
	return g, members
}

func (n node) next(axis, sign int) node {
	if axis == 0 {
		return node{n.i + sign, n.j}
	}
	return node{n.i, n.j + sign}
}

// place adds a corner reached from n; its step along the axis is the one just made, the other as at n.
func (g *grid) place(to node, p r2.Vec, n node, axis, sign int) {
	s := g.steps[n]
	s[axis] = r2.Scale(float64(sign), r2.Sub(p, g.at[n]))
	g.at[to], g.steps[to] = p, s
}

// firstSteps finds the nearest neighbours of a corner along the two edges that cross there.
func firstSteps(cs []corner, ix *cornerIndex, seed int) (steps [2]r2.Vec, ok bool) {
	c := cs[seed]
	for axis := range 2 {
		edge := c.bright + math.Pi/4 - float64(axis)*math.Pi/2
		k := ix.nearest(c.p, indexReach, func(k int) bool {
			d := r2.Sub(cs[k].p, c.p)
			return k != seed && opposite(c, cs[k]) && turn(math.Atan2(d.Y, d.X), edge) < gridAngle
		})
		if k < 0 {
			return steps, false
		}
		steps[axis] = r2.Sub(cs[k].p, c.p)
	}
	ratio := r2.Norm(steps[0]) / r2.Norm(steps[1])
	return steps, ratio < gridStretch && ratio > 1/gridStretch
}

// opposite tells whether b is bright where a is dark, as neighbours on a board are.
func opposite(a, b corner) bool { return turn(a.bright+math.Pi/2, b.bright) < gridAngle }

// turn is the angle between two undirected lines, 0 to pi/2.
func turn(a, b float64) float64 { return math.Abs(math.Remainder(a-b, math.Pi)) }

// table lays the grid out as rows and columns, without the outer lines that are mostly empty; nil marks a missing corner.
func (g grid) table() [][]*r2.Vec {
	lo, hi := node{math.MaxInt, math.MaxInt}, node{math.MinInt, math.MinInt}
	for n := range g.at {
		lo = node{min(lo.i, n.i), min(lo.j, n.j)}
		hi = node{max(hi.i, n.i), max(hi.j, n.j)}
	}
	rows := make([][]*r2.Vec, hi.i-lo.i+1)
	for i := range rows {
		rows[i] = make([]*r2.Vec, hi.j-lo.j+1)
	}
	for n, p := range g.at {
		rows[n.i-lo.i][n.j-lo.j] = &p
	}
	for range 2 {
		rows = transpose(trim(rows))
	}
	return rows
}

// trim drops leading and trailing rows that are less than half full.
func trim(rows [][]*r2.Vec) [][]*r2.Vec {
	sparse := func(row []*r2.Vec) bool { return 2*len(present(row)) < len(row) }
	for len(rows) > 0 && sparse(rows[0]) {
		rows = rows[1:]
	}
	for len(rows) > 0 && sparse(rows[len(rows)-1]) {
		rows = rows[:len(rows)-1]
	}
	return rows
}

func present(row []*r2.Vec) []*r2.Vec {
	return slices.DeleteFunc(slices.Clone(row), func(p *r2.Vec) bool { return p == nil })
}

func transpose[T any](rows [][]T) [][]T {
	if len(rows) == 0 {
		return nil
	}
	out := make([][]T, len(rows[0]))
	for j := range out {
		out[j] = make([]T, len(rows))
		for i := range rows {
			out[j][i] = rows[i][j]
		}
	}
	return out
}
