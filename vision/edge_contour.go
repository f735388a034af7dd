package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// contourPoint is one point of the closed contour of the piece, in full-size pixels.
type contourPoint struct {
	p, t, n r2.Vec  // place, unit tangent, unit normal out of the piece
	bend    float64 // curvature, 1/px, positive where the piece bulges
	corner  float64 // distance along the contour to the nearest corner, px
}

// Contour geometry, in contour points (about one pixel each).
const (
	tangentReach = 4 // each side: 9 points average the noise of a tangent to about 1 degree at 0.1 px
	bendReach    = 7
	cornerReach  = 5
	cornerTurn   = 30 * math.Pi / 180 // a turn within cornerReach either side that counts as a corner
)

// contour walks round the silhouette: along the left side from the first end to the last, and back
// along the right side, so that the piece lies to the right of the walk.
func (o *silhouette) contour() []r2.Vec {
	var out []r2.Vec
	at := func(i float64, k int, h float64) r2.Vec {
		c := min(max(int(math.Round(i)), o.From), o.To)
		j := o.Middle[c] + float64(2*k-1)*h
		return o.s.f.at(o.s.station(i), o.s.offset(j))
	}
	side := func(k, from, to, step int) {
		last := -1.0
		for i := from; i != to+step; i += step {
			h := float64(o.Reach[k][i]) + 0.5
			edge := float64(i) - float64(step)/2
			if last < 0 {
				out = append(out, at(edge, k, h))
			} else if math.Abs(h-last) > 1 {
				out = append(out, at(edge, k, last), at(edge, k, h))
			}
			out = append(out, at(float64(i), k, h))
			last = h
		}
		out = append(out, at(float64(to)+float64(step)/2, k, last))
	}
	side(0, o.From, o.To, 1)
	side(1, o.To, o.From, -1)
	return out
}

// respace spreads points evenly about one pixel apart along the closed polygon q.
func respace(q []r2.Vec) []r2.Vec {
	total := 0.0
	for i, a := range q {
		total += r2.Norm(r2.Sub(q[(i+1)%len(q)], a))
	}
	n := max(8, int(math.Round(total)))
	pitch := total / float64(n)
	out := make([]r2.Vec, 0, n)
	next, walked := 0.0, 0.0
	for i, a := range q {
		b := q[(i+1)%len(q)]
		l := r2.Norm(r2.Sub(b, a))
		for next < walked+l && len(out) < n {
			out = append(out, r2.Add(a, r2.Scale((next-walked)/l, r2.Sub(b, a))))
			next += pitch
		}
		walked += l
	}
	return out
}

// survey finds tangents, normals, bends and corners of the closed, evenly spaced contour q.
func survey(q []r2.Vec) []contourPoint {
	out := make([]contourPoint, len(q))
	for i := range q {
		t := tangent(q, i)
		out[i] = contourPoint{p: q[i], t: t, n: r2.Vec{X: t.Y, Y: -t.X}, corner: math.Inf(1)}
	}
	markCorners(q, out)
	for i := range out {
		out[i].bend = bend(q, out, i)
	}
	return out
}

// wrap is the point i of a closed list.
func wrap(q []r2.Vec, i int) r2.Vec { return q[(i%len(q)+len(q))%len(q)] }

// tangent is the direction of the contour at point i. Of a window about i, one before it and one
// after it the straightest counts, so that tangents hold up to a corner.
func tangent(q []r2.Vec, i int) r2.Vec {
	best, at := math.Inf(1), r2.Vec{}
	for _, w := range [3][2]int{{-tangentReach, tangentReach}, {-2*tangentReach + 1, 1}, {-1, 2*tangentReach - 1}} {
		d, res := direction(q, i+w[0], i+w[1])
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
func direction(q []r2.Vec, a, b int) (r2.Vec, float64) {
	var m r2.Vec
	n := float64(b - a + 1)
	for k := a; k <= b; k++ {
		m = r2.Add(m, r2.Scale(1/n, wrap(q, k)))
	}
	var xx, xy, yy float64
	for k := a; k <= b; k++ {
		d := r2.Sub(wrap(q, k), m)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	s, c := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	e := r2.Vec{X: c, Y: s}
	if r2.Dot(e, r2.Sub(wrap(q, b), wrap(q, a))) < 0 {
		e = r2.Scale(-1, e)
	}
	least := (xx+yy)/2 - math.Hypot((xx-yy)/2, xy)
	return e, math.Max(least, 0) / n
}

// turnAt is the angle between the directions before and after point i, positive to the right.
func turnAt(q []r2.Vec, i int) float64 {
	a, _ := direction(q, i-cornerReach, i)
	b, _ := direction(q, i, i+cornerReach)
	return math.Atan2(r2.Cross(a, b), r2.Dot(a, b))
}

// markCorners finds the sharpest points and writes the distance to the nearest into every point.
func markCorners(q []r2.Vec, out []contourPoint) {
	n := len(q)
	turns := make([]float64, n)
	for i := range q {
		turns[i] = math.Abs(turnAt(q, i))
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
func bend(q []r2.Vec, c []contourPoint, i int) float64 {
	if c[i].corner <= bendReach {
		return 0
	}
	var s2, s4, sd, s2d, n float64
	for k := -bendReach; k <= bendReach; k++ {
		d := r2.Sub(wrap(q, i+k), c[i].p)
		x, y := r2.Dot(d, c[i].t), r2.Dot(d, c[i].n)
		s2, s4, sd, s2d, n = s2+x*x, s4+x*x*x*x, sd+y, s2d+x*x*y, n+1
	}
	den := n*s4 - s2*s2
	if den <= 0 {
		return 0
	}
	return -2 * (n*s2d - s2*sd) / den
}
