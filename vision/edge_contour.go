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
