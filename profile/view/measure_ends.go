package view

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// endFace is where the axis leaves the piece.
type endFace struct {
	x      float64 // station, mm
	r      float64 // radius that the outline reads just inside, mm
	rim    float64 // radius of a round end within which its points were taken, mm; 0 = not round
	square bool    // the face is square
	face   squareFace
	sigma  float64 // standard deviation of x, mm
	unsure bool    // the face's outline is neither a rim nor an edge: the station is the outermost that shows
}

const (
	// leastDepth is how deep the outline of a round end must bulge to be told from a straight edge, px.
	leastDepth = 1.5
	// endMisfit is how far an end's points may scatter about a rim or an edge and still be one, px: more than an
	// edge's noise, less than the difference to a wrong shape.
	endMisfit = 0.12
	// fewest is how many points must show an end.
	fewest = 5
	// insideEnd is how far inside the end the radius beside it is read, mm.
	insideEnd = 2.0
)

// endView is the outline of one end: signed v beside u.
type endView struct {
	rays []r2.Vec
	px   float64 // size of a pixel in u and v
	dir  float64 // +1 at the far end, -1 at x = 0
	d    float64 // distance of the axis, mm
	r    float64 // radius read beside the end, mm
	tip  float64 // outermost u
	most int     // about how many points are fitted
}

// findEnd finds one end. A round end's rim is a circle of unknown radius about the axis: its rays pass the axis at
// its station at that radius. A square's near edge stands half the side before the axis. What is neither (a
// pointed or rounded end) ends about where its outermost ray becomes the nearest of all.
func (a placed) findEnd(s silhouette, e int) (endFace, error) {
	w, err := a.endView(s, e)
	if err != nil {
		return endFace{}, err
	}
	if len(w.near(rimShare)) < fewest {
		return a.blind(w), nil
	}
	if f, ok := a.squareLike(w, s.known, e); ok {
		return endFace{x: a.p.Foot + f.x, r: w.r, square: true, face: f, sigma: f.sigma}, nil
	}
	r := w.r
	if s.known != nil && s.known[e].rim > 0 {
		w.r = s.known[e].rim
	}
	if !s.variant || s.known[e].rim > 0 {
		if x, sigma, ok := w.rim(); ok {
			return endFace{x: a.p.Foot + x, r: r, rim: w.r, sigma: sigma}, nil
		}
	}
	w.r = r
	w.sharpen()
	return a.unclear(w), nil
}

// squareLike fits a square end, unless the end is known to be none.
func (a placed) squareLike(w endView, known *[2]endFace, e int) (squareFace, bool) {
	round, flat := w, a.flatRoll()
	w.r = a.further(w)
	switch {
	case known == nil:
		return w.square(flat, round)
	case known[e].square:
		return w.again(known[e].face, flat)
	}
	return squareFace{}, false
}

// further reads the radius so far inside the end that no ray past the end face comes near.
func (a placed) further(w endView) float64 {
	at := a.p.Station(w.tip*(1-w.away()*w.r/a.p.D)) - w.dir*(2*insideEnd+2*w.r*math.Abs(w.tip))
	if r, ok := a.radius(at); ok {
		return r
	}
	return w.r
}

// blind places an end whose face shows no points: somewhere between where the outermost ray meets the axis and where
// the near edge of a square would stand.
func (a placed) blind(w endView) endFace {
	near, far := a.p.Station(w.tip*(1-w.away()*w.r/w.d)), a.p.Station(w.tip)
	return endFace{
		x: (near + far) / 2, r: w.r,
		sigma:  math.Abs(far-near)/math.Sqrt(12) + w.px*w.d,
		unsure: w.depth() > leastDepth,
	}
}

// pointed is the share of the radius beside an end under which the end is pointed or rounded, not cut off.
const pointed = 0.6

// unclear finds an end that is neither a rim nor an edge. One that is cut off, such as a square seen corner on, ends
// where the outermost ray leaves the others. One that runs out ends between there and where that ray meets the axis:
// its last part may be hidden by what is in front of it.
func (a placed) unclear(w endView) endFace {
	from, to := a.leaves(w), a.p.Station(w.tip)
	out := endFace{x: from, r: w.r, sigma: 2 * w.px * w.d, unsure: true}
	if math.Abs(to-from) < pointed*w.r*math.Abs(w.tip) {
		out.x = (from + to) / 2
		out.sigma = math.Abs(to-from)/math.Sqrt(12) + w.px*w.d
	}
	return out
}

// endView gathers the points of an end.
func (a placed) endView(s silhouette, e int) (endView, error) {
	w := endView{dir: float64(2*e - 1), d: a.p.D, most: endSamples}
	if s.known != nil {
		w.most = fewSamples
	}
	for _, q := range s.ends[e] {
		if usable(q) {
			u, v := a.p.ToAxis(q.P)
			w.rays = append(w.rays, r2.Vec{X: u, Y: v})
		}
	}
	for side, c := range a.contours {
		for i := range c.u {
			if (e == 0) == (i < len(c.u)/2) {
				w.rays = append(w.rays, r2.Vec{X: c.u[i], Y: c.v[i] * outward(side)})
			}
		}
	}
	if len(w.rays) < fewest {
		return w, fmt.Errorf("%w: end %d of the piece shows hardly a point; mark the ends", ErrSides, e+1)
	}
	extreme := math.Inf(-1)
	for _, q := range w.rays {
		extreme = math.Max(extreme, w.dir*q.X)
	}
	w.tip = w.dir * extreme
	du, _ := a.p.PixelsPer(w.tip, 0)
	w.px = 1 / r2.Norm(du)
	w.r = a.beside(w)
	return w, nil
}

// away is +1 when the end face is turned away from the camera, so that the near half of its rim is the outline,
// and -1 when the face is seen and the far half is.
func (w endView) away() float64 { return math.Copysign(1, w.tip*w.dir) }

// beside reads the radius just inside an end.
func (a placed) beside(w endView) float64 {
	r := 0.0
	// The outermost ray meets the axis beyond the end, by r u. From there each round comes inward, until it is.
	for range 40 {
		at := a.p.Station(w.tip*(1-w.away()*r/a.p.D)) - w.dir*insideEnd
		n, last := 0.0, r
		r = 0
		for i := range a.contours {
			if t, ok := a.contours[i].nearest(at); ok {
				r += t.r
				n++
			}
		}
		r /= math.Max(n, 1)
		if math.Abs(r-last) < 1e-3 {
			break
		}
	}
	return r
}

// depth is how far the outline of a round end of radius r bulges, px.
func (w endView) depth() float64 {
	return math.Abs(w.tip) * w.r / (w.d - w.away()*w.r) / w.px
}

// near returns the end's points within a share of the half width, no deeper than a round end reaches.
func (w endView) near(share float64) []r2.Vec {
	wide := w.r / w.d
	reach := w.dir*w.tip - (w.depth()+4)*w.px
	var out []r2.Vec
	for _, q := range w.rays {
		if math.Abs(q.Y) < share*wide && w.dir*q.X > reach {
			out = append(out, q)
		}
	}
	return out
}

// chord is the depth at which rays v meet the half of a round end's rim that is seen, mm.
func (w endView) chord(v float64) float64 {
	y := math.Min(math.Abs(v)*w.d, w.r)
	return w.d - w.away()*math.Sqrt(w.r*w.r-y*y)
}

// sharpen replaces the very outermost point, which is the luckiest, by the third in ten.
func (w *endView) sharpen() {
	var us []float64
	for _, q := range w.near(0.3) {
		us = append(us, w.dir*q.X)
	}
	if len(us) >= fewest {
		sort.Float64s(us)
		w.tip = w.dir * us[len(us)*7/10]
	}
}

// leaves walks inward from beyond the end to where the outermost ray parts from the nearest of all, and back by
// what the gap between them has grown by.
func (a placed) leaves(w endView) float64 {
	x := a.p.Station(w.tip)
	const parted = 0.06 // mm: three times the noise of a radius
	step := math.Max(0.02, w.r/1000)
	limit := x - w.dir*2*(w.r+1)
	for ; w.dir*(x-limit) > 0 && a.outside(w, x) < parted; x -= w.dir * step {
	}
	gap, further := a.outside(w, x), a.outside(w, x-w.dir*0.2)
	if growth := (further - gap) / 0.2; growth > 0 {
		x += w.dir * math.Min(gap/growth, 0.5)
	}
	return x
}

// outside is how far the outermost ray passes outside the nearest at station x, mm.
func (a placed) outside(w endView, x float64) float64 {
	r := math.Inf(1)
	for i := range a.contours {
		if q, ok := a.contours[i].nearest(x); ok {
			r = math.Min(r, q.r)
		}
	}
	return math.Abs(a.p.D-(x-a.p.Foot)/w.tip) - r
}
