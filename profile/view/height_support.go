package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// point returns the axis' point at station x, camera's frame.
func (a placed) point(x float64) r3.Vec {
	return r3.Add(r3.Scale(a.p.D, a.p.z), r3.Scale(x-a.p.Foot, a.p.x))
}

// startAt makes the present station x the new zero.
func (a *placed) startAt(x float64) {
	a.scene.Axis = Line{P: a.point(x), E: a.p.x}
	a.p.Foot -= x
	for i := range a.contours {
		a.contours[i].foot -= x
	}
	for i := range a.ends {
		a.ends[i].x -= x
	}
	for i := range a.squares {
		a.squares[i].x0 -= x
		a.squares[i].x1 -= x
	}
}

// levelness is the cosine of the axis' tilt against the plane.
func (a placed) levelness() float64 {
	sin := r3.Dot(a.scene.Plane.Normal(), a.p.x)
	return math.Sqrt(1 - sin*sin)
}

// coarse is the spacing at which heights and the effects of the scene are looked at, mm: a crest of 5 mm radius is
// missed by 0.006 mm.
const coarse = 0.5

// extents returns how far the piece reaches from its axis towards the plane, by station: its radius, or half its
// side where it is square.
func (a placed) extents() []r2.Vec {
	var out []r2.Vec
	for x := coarse / 2; x < a.ends[1].x; x += coarse {
		if r, ok := a.reach(x); ok {
			out = append(out, r2.Vec{X: x, Y: r})
		}
	}
	return out
}

// HalfSide returns half the side of a square, flat to the camera, whose outline reads as radius r when it is
// taken for round: its near edges stand before the axis.
func (p Projector) HalfSide(r float64) float64 {
	v := r / math.Sqrt((p.D-r)*(p.D+r))
	return v * p.D / (1 + v)
}

// largest is the largest extent.
func (a placed) largest() float64 {
	most := 0.0
	for _, e := range a.extents() {
		most = math.Max(most, e.Y)
	}
	return most
}

// supports returns the stations and extents on which the piece rests: the edge of the profile's hull that spans
// its middle.
func (a placed) supports() (r2.Vec, r2.Vec) {
	h := upperHull(a.extents(), 1)
	if len(h) == 0 { // nothing is seen from both sides
		return r2.Vec{}, r2.Vec{X: a.ends[1].x}
	}
	mid := a.ends[1].x / 2
	for i := 1; i < len(h); i++ {
		if h[i].X >= mid {
			return h[i-1], h[i]
		}
	}
	return h[0], h[len(h)-1]
}
