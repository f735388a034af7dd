package view

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// endFace is where the axis leaves the piece.
type endFace struct {
	x      float64 // station, mm
	r      float64 // radius that the outline reads just inside, mm
	square bool    // the face is square: its near edge is straight
	sigma  float64 // standard deviation of x, mm
}

// endZone is how far from the very end of the outline its points are taken for the end face at least, px.
const endZone = 6

// findEnd finds one end. The ray through the end face's nearest point (v = 0) passes the axis at x at the
// distance |d - x/u|; the end is where that becomes the nearest of all rays. A square's near edge stands half
// the side before the axis instead.
func (a placed) findEnd(s silhouette, e int) (endFace, error) {
	tip, err := a.tip(s, e)
	if err != nil {
		return endFace{}, err
	}
	out := endFace{square: tip.square, r: tip.r, sigma: tip.sigma * a.p.D}
	if tip.square {
		half := a.p.HalfSide(tip.r)
		out.x = a.p.Foot + tip.u*(a.p.D-half*math.Copysign(1, tip.away))
		return out, nil
	}
	out.x = a.leaves(tip, e)
	return out, nil
}

// tip is the outermost ray of an end.
type tip struct {
	u      float64
	sigma  float64
	r      float64 // radius read beside the end
	away   float64 // +1 when the end face is turned away from the camera, -1 when it is seen
	square bool
}

// tip fits u = u0 + s v + k v² to the outline of an end face.
func (a placed) tip(s silhouette, e int) (tip, error) {
	rays, px := a.endRays(s, e)
	if len(rays) < 3 {
		return tip{}, fmt.Errorf("%w: end %d of the piece shows fewer than 3 points; mark the ends", ErrSides, e+1)
	}
	dir := float64(2*e - 1)
	extreme := math.Inf(-1)
	for _, q := range rays {
		extreme = math.Max(extreme, dir*q.X)
	}
	r := a.beside(dir*extreme, dir)
	t := tip{r: r, away: math.Copysign(1, extreme)}
	wide := r / a.p.D
	depth := math.Abs(extreme)*wide + endZone*px
	var near []r2.Vec
	for _, q := range rays {
		if dir*q.X > extreme-depth && math.Abs(q.Y) < 0.75*wide {
			near = append(near, q)
		}
	}
	c, rms := parabolaThrough(near)
	t.u, t.sigma = c[0], math.Max(rms, 0.02*px)
	if len(near) < 4 {
		t.u, t.sigma = dir*extreme, px
		return t, nil
	}
	// The rim of a round end: u = x/(d - sqrt(r² - y²)), curved by about u/(2 r d) d² a v².
	round := -t.u * t.away * a.p.D * a.p.D / (2 * r * (a.p.D - t.away*r))
	seen := math.Abs(round) * wide * wide / 2
	t.square = seen > 1.5*px && math.Abs(c[2]) < math.Abs(round)/2
	return t, nil
}

// endRays returns the axis coordinates (u, signed v) of the points at an end, and the size of a pixel in u there.
func (a placed) endRays(s silhouette, e int) ([]r2.Vec, float64) {
	var rays []r2.Vec
	for _, q := range s.ends[e] {
		if usable(q) {
			u, v := a.p.ToAxis(q.P)
			rays = append(rays, r2.Vec{X: u, Y: v})
		}
	}
	for side, c := range a.contours {
		for i := range c.u {
			if (e == 0) == (i < len(c.u)/2) {
				rays = append(rays, r2.Vec{X: c.u[i], Y: c.v[i] * outward(side)})
			}
		}
	}
	if len(rays) == 0 {
		return nil, 0
	}
	du, _ := a.p.PixelsPer(rays[0].X, 0)
	return rays, 1 / r2.Norm(du)
}

// insideEnd is how far inside the end the radius beside it is read, mm.
const insideEnd = 2.0

// beside reads the radius just inside an end whose outermost ray is u.
func (a placed) beside(u, dir float64) float64 {
	r := 0.0
	// The outermost ray meets the axis beyond the end by r u: two rounds are enough to read beside it.
	for range 3 {
		at := a.p.Station(u*(1-math.Copysign(r/a.p.D, u*dir))) - dir*insideEnd
		r = 0
		for i := range a.contours {
			if t, ok := a.contours[i].nearest(at); ok {
				r = math.Max(r, t.r)
			}
		}
	}
	return r
}

// parabolaThrough fits X = c0 + c1 Y + c2 Y² robustly and returns the spread about it.
func parabolaThrough(pts []r2.Vec) (c [3]float64, rms float64) {
	w := make([]float64, len(pts))
	for i := range w {
		w[i] = 1
	}
	off := make([]float64, len(pts))
	for range 8 {
		var m [5]float64
		var b [3]float64
		for i, q := range pts {
			y := q.Y
			for k, p := 0, w[i]; k < 5; k++ {
				m[k] += p
				if k < 3 {
					b[k] += p * q.X
				}
				p *= y
			}
		}
		inv, ok := invert3(m)
		if !ok {
			return c, 0
		}
		for j := range c {
			c[j] = inv[j][0]*b[0] + inv[j][1]*b[1] + inv[j][2]*b[2]
		}
		for i, q := range pts {
			off[i] = math.Abs(q.X - c[0] - c[1]*q.Y - c[2]*q.Y*q.Y)
		}
		rms = median(append([]float64(nil), off...)) / 0.6745
		for i := range w {
			w[i] = 1
			if q := off[i] / (tukey*rms + 1e-9); q < 1 {
				w[i] = (1 - q*q) * (1 - q*q)
			} else {
				w[i] = 0
			}
		}
	}
	return c, rms
}

// leaves walks outward until the outermost ray is the nearest to the axis.
func (a placed) leaves(t tip, e int) float64 {
	dir := float64(2*e - 1)
	over := func(x float64) float64 { // how far the outermost ray passes outside the other rays
		r := math.Inf(1)
		for i := range a.contours {
			if q, ok := a.contours[i].nearest(x); ok {
				r = math.Min(r, q.r)
			}
		}
		return math.Abs(a.p.D-(x-a.p.Foot)/t.u) - r
	}
	if t.u == 0 {
		return a.p.Foot
	}
	x := a.p.Station(t.u)
	const step, touching = 0.05, 0.02
	// From the station where that ray meets the axis, which lies beyond the end, inward to where it parts from
	// the others.
	limit := x - dir*2*(t.r+1)
	for ; dir*(x-limit) > 0; x -= dir * step {
		if over(x) > touching && over(x-dir*0.5) > touching {
			break
		}
	}
	// It parts at a slope of |1/u|: go back by what it has gained.
	return x + dir*math.Min(over(x)*math.Abs(t.u), step)
}
