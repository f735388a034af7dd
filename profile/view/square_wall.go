package view

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/lsq"
)

const (
	// leastWall is how far, px, the outline must drop at the end of a level run to show what ends there.
	leastWall = 6.0
	// roundedCorner is how far from a wall's top and foot blur rounds it off, px.
	roundedCorner = 1.5
	// levelPx is how far a level run may stray, px.
	levelPx = 0.6
	// plainly is by how much the better of two shapes must fit better than the other.
	plainly = 2.0
)

// walledSquares finds squares between round parts at which the camera looks flat on: along their length they are like
// cylinders, but where they end in a wall it is straight, and that of a cylinder is part of a rim.
func (a placed) walledSquares(like squareStretch) []squareStretch {
	var out []squareStretch
	for _, run := range a.levelRuns() {
		before, after := a.wall(run, -1, like.roll), a.wall(run, 1, like.roll)
		if before.vote+after.vote <= 0 {
			continue
		}
		q := like
		q.half = a.p.HalfSide(run.r)
		x0, okBefore := a.grow(q, (run.x0+run.x1)/2, -1)
		x1, okAfter := a.grow(q, (run.x0+run.x1)/2, 1)
		if okBefore && okAfter {
			q.x0, q.x1 = before.or(x0), after.or(x1)
			q.half = a.typicalHalf(q)
			out = append(out, q)
		}
	}
	return out
}

// wall is what ends a level run: vote is +1 for a square, -1 for a cylinder, 0 where it is neither plainly. x is the
// station of a square's.
type wall struct {
	vote int
	x    float64
}

// or returns the station of a square's wall, or else another.
func (w wall) or(x float64) float64 {
	if w.vote > 0 {
		return w.x
	}
	return x
}

// levelRun is a stretch that reads one radius throughout, mm.
type levelRun struct{ x0, x1, r float64 }

// levelRuns finds the level runs long enough to be squares, away from those known.
func (a placed) levelRuns() []levelRun {
	var out []levelRun
	var run levelRun
	flush := func() {
		if run.x1-run.x0 >= leastMiddle*run.r {
			out = append(out, run)
		}
		run = levelRun{}
	}
	for x := a.ends[0].x; x < a.ends[1].x; x += middleStep {
		r, ok := a.radius(x)
		_, known := a.besideSquare(x)
		if !ok || known {
			flush()
			continue
		}
		if run.r > 0 && math.Abs(r-run.r) > levelPx*a.p.MMPerPixel(x) {
			flush()
		}
		if run.r == 0 {
			run = levelRun{x, x, r}
		}
		run.x1 = x
	}
	flush()
	return out
}

// wall says what ends a level run in a direction along the axis.
func (a placed) wall(run levelRun, dir, roll float64) wall {
	w := endView{dir: dir, d: a.p.D, r: run.r}
	du, _ := a.p.PixelsPer(a.p.U((run.x0+run.x1)/2), 0)
	w.px = 1 / r2.Norm(du)
	top := run.r / math.Sqrt((w.d-run.r)*(w.d+run.r))
	for side := range a.contours {
		w.rays = append(w.rays, a.contours[side].drop((run.x0+run.x1)/2, dir, top, w.px, side)...)
	}
	if len(w.rays) < 2*fewest {
		return wall{}
	}
	w.tip = w.rays[0].X
	for _, q := range w.rays {
		w.tip = dir * math.Max(dir*w.tip, dir*q.X)
	}
	if w.depth() < leastDepth {
		return wall{}
	}
	half := a.p.HalfSide(run.r)
	x, square := w.bestSpread(w.tip*(w.d-w.away()*half), func(x float64, q r2.Vec) float64 {
		h := w.hull([]float64{x, half, roll, 0})
		return h.outside(q) / w.px
	})
	_, round := w.bestSpread(w.tip*(w.d-w.away()*run.r), func(x float64, q r2.Vec) float64 {
		off, _, _ := w.miss(x, run.r, q.X, q.Y)
		return off
	})
	switch {
	case square < squareMisfit && plainly*square < round:
		return wall{1, a.p.Foot + x}
	case round < squareMisfit && plainly*round < square:
		return wall{vote: -1}
	}
	return wall{}
}

// bestSpread moves a shape along the axis to where it is nearest the rays and returns where, mm from the foot, and their
// robust scatter about it, px.
func (w endView) bestSpread(start float64, miss func(x float64, q r2.Vec) float64) (x, spread float64) {
	pts := thin(slices.Clone(w.rays), fewSamples)
	res, err := lsq.Solve(lsq.Problem{
		Start: []float64{start}, Scale: []float64{1}, Count: len(pts),
		Residuals: func(p, out []float64) {
			for i, q := range pts {
				out[i] = miss(p[0], q)
			}
		},
	}, lsq.Settings{Huber: 1, Iterations: 20})
	if err != nil {
		return start, math.Inf(1)
	}
	off := make([]float64, len(pts))
	for i, r := range res.Residuals {
		off[i] = math.Abs(r)
	}
	slices.Sort(off)
	return res.P[0], off[len(off)*3/4] / 1.15
}

// drop walks along a side from station x to where it falls from v = top, and returns the rays of the wall there: without
// its corners, down to where it ends or turns level again. Nothing where there is no wall.
func (c *contour) drop(x, dir, top, px float64, side int) []r2.Vec {
	i, _ := slices.BinarySearch(c.before, (x-c.foot)/c.d)
	step := int(dir)
	for ; i > 0 && i < len(c.u)-1 && c.v[i] > top-roundedCorner*px; i += step {
		if c.v[i] > top+2*roundedCorner*px {
			return nil
		}
	}
	if i <= 0 || i >= len(c.u)-1 {
		return nil
	}
	var out []r2.Vec
	// The face that the camera sees slopes from its near corner to its far one before it falls.
	from, steep := c.u[i], false
	for ; i > 0 && i < len(c.u)-1 && !c.gap[i]; i += step {
		dv, du := c.v[i]-c.v[i-step], c.u[i]-c.u[i-step]
		if falls := -dv >= math.Abs(du); !falls && (steep || math.Abs(c.u[i]-from) > 3*top*math.Abs(from)+leastWall*px) {
			break
		} else if falls {
			steep = true
		}
		out = append(out, r2.Vec{X: c.u[i], Y: c.v[i] * outward(side)})
	}
	deep := 0.0
	if len(out) > 0 {
		deep = math.Abs(out[0].Y) - math.Abs(out[len(out)-1].Y)
	}
	if deep < leastWall*px {
		return nil
	}
	foot := math.Abs(out[len(out)-1].Y) + roundedCorner*px
	return slices.DeleteFunc(out, func(q r2.Vec) bool { return math.Abs(q.Y) < foot })
}
