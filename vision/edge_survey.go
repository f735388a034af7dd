package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Contour geometry, in contour points (about one pixel each).
const (
	tangentReach = 4 // each side: 9 points average the noise of a tangent to about 1 degree at 0.1 px
	bendReach    = 7
	cornerReach  = 5
	cornerTurn   = 30 * math.Pi / 180 // a turn within cornerReach either side that counts as a corner
)

// surveyor knows the running sums over a closed contour, so that the direction of any stretch of it costs the same.
type surveyor struct {
	q    []r2.Vec     // from the middle of the contour, wrapped by pad at both ends
	sums [][5]float64 // of x, y, xx, xy, yy over the points before
}

// surveyPad is how far the windows reach beyond a point.
const surveyPad = 2 * tangentReach

func newSurveyor(q []r2.Vec) *surveyor {
	var mid r2.Vec // sums of squares about it keep their digits
	for _, p := range q {
		mid = r2.Add(mid, r2.Scale(1/float64(len(q)), p))
	}
	n := len(q)
	s := &surveyor{q: make([]r2.Vec, n+2*surveyPad), sums: make([][5]float64, n+2*surveyPad+1)}
	for i := range s.q {
		p := r2.Sub(q[((i-surveyPad)%n+n)%n], mid)
		s.q[i] = p
		v := &s.sums[i]
		s.sums[i+1] = [5]float64{v[0] + p.X, v[1] + p.Y, v[2] + p.X*p.X, v[3] + p.X*p.Y, v[4] + p.Y*p.Y}
	}
	return s
}

// survey finds tangents, normals, bends and corners of the closed, evenly spaced contour q.
func survey(q []r2.Vec) []contourPoint {
	out := make([]contourPoint, len(q))
	s := newSurveyor(q)
	for i := range q {
		t := s.tangent(i)
		out[i] = contourPoint{p: q[i], t: t, n: r2.Vec{X: t.Y, Y: -t.X}, corner: math.Inf(1)}
	}
	s.markCorners(out)
	for i := range out {
		out[i].bend = s.bend(out, i)
	}
	return out
}

// tangent is the direction of the contour at point i. Of a window about i, one before it and one
// after it the straightest counts, so that tangents hold up to a corner.
func (s *surveyor) tangent(i int) r2.Vec {
	best, at := math.Inf(1), r2.Vec{}
	for _, w := range [3][2]int{{-tangentReach, tangentReach}, {-2*tangentReach + 1, 1}, {-1, 2*tangentReach - 1}} {
		d, res := s.direction(i+w[0], i+w[1])
		if w[0] != -w[1] {
			res = res*1.5 + 0.02 // px²: a window to one side must be clearly straighter
		}
		if res < best {
			best, at = res, d
		}
	}
	return at
}

// direction is the principal direction of points a..b, along the walk, and their mean square distance from it.
func (s *surveyor) direction(a, b int) (r2.Vec, float64) {
	lo, hi := &s.sums[a+surveyPad], &s.sums[b+1+surveyPad]
	n := float64(b - a + 1)
	x, y := hi[0]-lo[0], hi[1]-lo[1]
	xx, xy, yy := hi[2]-lo[2]-x*x/n, hi[3]-lo[3]-x*y/n, hi[4]-lo[4]-y*y/n
	half := (xx - yy) / 2
	long := math.Sqrt(half*half + xy*xy)
	e := r2.Vec{X: half + long, Y: xy} // the eigenvector of the larger eigenvalue
	if half < 0 {
		e = r2.Vec{X: xy, Y: long - half}
	}
	walk := r2.Sub(s.q[b+surveyPad], s.q[a+surveyPad])
	l := math.Sqrt(r2.Norm2(e))
	if l < 1e-9 { // points in a heap have no direction but the walk's
		e, l = walk, math.Max(math.Sqrt(r2.Norm2(walk)), 1e-9)
	}
	if r2.Dot(e, walk) < 0 {
		l = -l
	}
	return r2.Scale(1/l, e), math.Max((xx+yy)/2-long, 0) / n
}

// turnAt is the size of the angle between the directions before and after point i.
func (s *surveyor) turnAt(i int) float64 {
	a, _ := s.direction(i-cornerReach, i)
	b, _ := s.direction(i, i+cornerReach)
	return math.Abs(math.Atan2(r2.Cross(a, b), r2.Dot(a, b)))
}

// markCorners finds the sharpest points and writes the distance to the nearest into every point.
func (s *surveyor) markCorners(out []contourPoint) {
	n := len(out)
	turns := make([]float64, n)
	for i := range turns {
		turns[i] = s.turnAt(i)
	}
	reach := 3 * cornerReach
	for i, v := range turns {
		if v < cornerTurn {
			continue
		}
		peak := true
		for k := -cornerReach; k <= cornerReach; k++ {
			if turns[((i+k)%n+n)%n] > v {
				peak = false
			}
		}
		if !peak {
			continue
		}
		for k := -reach; k <= reach; k++ {
			c := &out[((i+k)%n+n)%n]
			c.corner = math.Min(c.corner, math.Abs(float64(k)))
		}
	}
}

// bend is the curvature at point i from a parabola over its neighbours; 0 beside a corner.
func (s *surveyor) bend(c []contourPoint, i int) float64 {
	if c[i].corner <= bendReach {
		return 0
	}
	at := s.q[i+surveyPad]
	var s2, s4, sd, s2d, n float64
	for k := -bendReach; k <= bendReach; k++ {
		d := r2.Sub(s.q[i+k+surveyPad], at)
		x, y := r2.Dot(d, c[i].t), r2.Dot(d, c[i].n)
		s2, s4, sd, s2d, n = s2+x*x, s4+x*x*x*x, sd+y, s2d+x*x*y, n+1
	}
	den := n*s4 - s2*s2
	if den <= 0 {
		return 0
	}
	return -2 * (n*s2d - s2*sd) / den
}
