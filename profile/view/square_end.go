package view

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/lsq"
)

const (
	// squareNoise is the standard deviation of an end's points about a square's outline, px: its edges are never quite
	// sharp.
	squareNoise = 0.1
	// squareMisfit is how far they may scatter and still show a square, px.
	squareMisfit = 0.35
	// middleSigma is the standard deviation of the axis' place between the sides while a square is fitted, mm: the
	// first guess of the axis holds squares for round.
	middleSigma = 0.5
	// liesFlat is within what a square counts as lying flat, radians.
	liesFlat = 3 * math.Pi / 180
	// flatSigma is the standard deviation of the roll of a square that lies on the plane, radians: 0.15 mm in 40.
	flatSigma = 0.2 * math.Pi / 180
	// leastSpread is the least scatter of an end's points that is believed, px.
	leastSpread = 0.02
	// endSamples is about how many points of an end are fitted, fewSamples how many once it is known what end it is.
	endSamples, fewSamples = 150, 60
)

// squareFace is a square end as fitted.
type squareFace struct {
	x, half, roll, sigmaRoll float64 // x from the foot
	spread                   float64 // px
	sigma                    float64 // standard deviation of x, mm
	flat                     bool    // it lies flat on the plane
}

// again fits a square end that is known from a scene nearly the same.
func (w endView) again(f squareFace, flat float64) (squareFace, bool) {
	pts := w.zone()
	roll, sigma := f.roll, math.Inf(1)
	if f.flat {
		roll, sigma = flat, flatSigma
	}
	if len(pts) < 2*fewest {
		return f, false
	}
	r, err := w.fitSquare(pts, roll, sigma)
	if err != nil {
		return f, false
	}
	again := w.faceOf(r, pts)
	again.flat = f.flat
	return again, true
}

// square fits a square end; false where it is none: its points then scatter less about a round rim.
func (w endView) square(flat float64, round endView) (squareFace, bool) {
	c, err := round.circle(thin(round.near(rimShare), round.most))
	if err == nil && c.spread < squareNoise/2 {
		return squareFace{}, false
	}
	f, ok := w.squareFace(flat)
	return f, ok && f.spread < squareMisfit && (err != nil || f.spread < c.spread/2)
}

// squareFace fits the end of a square of unknown side, roll and station. flat is the roll of a square that lies flat.
func (w endView) squareFace(flat float64) (squareFace, bool) {
	pts := w.zone()
	if w.depth() < leastDepth || len(pts) < 2*fewest {
		return squareFace{}, false
	}
	var best lsq.Result
	found := false
	for _, turn := range []float64{0, math.Pi / 8, math.Pi / 4, -math.Pi / 8} {
		if r, err := w.fitSquare(pts, flat+turn, math.Inf(1)); err == nil && (!found || r.Cost < best.Cost) {
			best, found = r, true
		}
	}
	if !found {
		return squareFace{}, false
	}
	free := w.faceOf(best, pts)
	if math.Abs(quarter(free.roll-flat)) > liesFlat+2*free.sigmaRoll {
		return free, true
	}
	free.flat = true
	return w.again(free, flat)
}

// zone returns the points of the end and of the sides up to a radius behind it, thinned.
func (w endView) zone() []r2.Vec {
	reach := w.dir*w.tip - w.r/w.d - w.depth()*w.px
	var out []r2.Vec
	for _, q := range w.rays {
		if w.dir*q.X > reach && math.Abs(q.Y) < 2*w.r/w.d {
			out = append(out, q)
		}
	}
	return thin(out, w.most)
}

// thin keeps points at equal distances in the list, so that there are not many more than n.
func thin(pts []r2.Vec, n int) []r2.Vec {
	step := len(pts) / n
	if step < 2 {
		return pts
	}
	out := pts[:0]
	for i := 0; i < len(pts); i += step {
		out = append(out, pts[i])
	}
	return out
}

// fitSquare fits station, half side, roll and the middle of the sides, starting from a roll; with a finite sigma the
// roll is known that well.
func (w endView) fitSquare(pts []r2.Vec, roll, sigma float64) (lsq.Result, error) {
	cos, sin := math.Abs(math.Cos(quarter(roll))), math.Abs(math.Sin(quarter(roll)))
	half := w.r / (cos + sin) * w.d / (w.d + w.r)
	return lsq.Solve(lsq.Problem{
		Start: []float64{w.tip * (w.d - w.away()*half*(cos+sin)), half, roll, 0},
		Scale: []float64{1, 1, 0.1, 1}, Count: len(pts) + 2,
		Lower: []float64{math.Inf(-1), 0.4 * w.r, math.Inf(-1), -10}, Upper: []float64{math.Inf(1), 1.2 * w.r, math.Inf(1), 10},
		Residuals: func(p, out []float64) {
			hull := w.hull(p)
			for i, q := range pts {
				out[i] = hull.outside(q) / (w.px * squareNoise)
			}
			out[len(pts)] = p[3] / middleSigma
			out[len(pts)+1] = (p[2] - roll) / sigma
		},
	}, lsq.Settings{Huber: 3, Iterations: 40})
}

func (w endView) faceOf(r lsq.Result, pts []r2.Vec) squareFace {
	hull := w.hull(r.P)
	f := squareFace{x: r.P[0], half: r.P[1], roll: r.P[2], spread: math.Max(w.spread(&hull, pts), w.spread(&hull, w.near(rimShare)))}
	f.sigma = math.Max(f.spread, leastSpread) * w.px * (w.d - w.away()*f.half) / math.Sqrt(float64(len(pts)))
	f.sigmaRoll = math.Max(1, f.spread/squareNoise) * math.Sqrt(math.Abs(r.Covariance()[2*4+2]))
	return f
}

// spread is the robust standard deviation of the distances of points from an outline, px; 0 without points.
func (w endView) spread(h *polygon, pts []r2.Vec) float64 {
	if len(pts) == 0 {
		return 0
	}
	off := make([]float64, len(pts))
	for i, q := range pts {
		off[i] = math.Abs(h.outside(q)) / w.px
	}
	slices.Sort(off)
	return off[len(off)*3/4] / 1.15
}

// polygon is a convex outline in u and v, as its edges' lines: their outward normals and distances from the origin.
type polygon struct {
	normal [8]r2.Vec
	from   [8]float64
	n      int
}

// hull is the outline of a long square that ends at p[0], mm from the foot, with half side p[1], roll p[2] and its axis
// p[3] mm off the middle.
func (w endView) hull(p []float64) polygon {
	s := newSection(2*p[1], p[2])
	points := make([]r2.Vec, 0, 8)
	for _, c := range s.corners {
		for _, x := range []float64{p[0], p[0] - w.dir*8*w.r} {
			t := w.d + c.Y
			points = append(points, r2.Vec{X: x / t, Y: (c.X + p[3]) / t})
		}
	}
	slices.SortFunc(points, func(a, b r2.Vec) int { return cmp.Compare(a.X, b.X) })
	var out polygon
	for _, sign := range []float64{1, -1} {
		chain := upperHull(points, sign)
		for i := 1; i < len(chain); i++ {
			e := r2.Sub(chain[i], chain[i-1])
			n := r2.Scale(1/r2.Norm(e), r2.Vec{X: -e.Y, Y: e.X})
			out.from[out.n] = r2.Dot(n, chain[i])
			out.normal[out.n] = r2.Vec{X: n.X, Y: n.Y * sign}
			out.n++
		}
	}
	return out
}

// outside is how far q lies outside the polygon, negative inside.
func (h *polygon) outside(q r2.Vec) float64 {
	most := math.Inf(-1)
	for i, n := range h.normal[:h.n] {
		if off := n.X*q.X + n.Y*q.Y - h.from[i]; off > most {
			most = off
		}
	}
	return most
}
