package view

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrHeight is wrapped where the axis cannot be placed over the reference plane.
var ErrHeight = errors.New("the axis cannot be placed over the reference plane")

// lineAt returns the line in the meridian plane that is parallel to the reference plane at height h, mm. Its P
// is the foot of the perpendicular from the camera.
func (m meridianPlane) lineAt(plane Pose, h float64) (Line, error) {
	n := plane.Normal()
	e := r3.Cross(m.y, n)
	if r3.Norm(e) < 0.1 {
		return Line{}, fmt.Errorf("%w: the camera looks along it; photograph the piece from above its side", ErrHeight)
	}
	e = r3.Unit(e)
	if r3.Dot(e, m.x) < 0 {
		e = r3.Scale(-1, e)
	}
	across := r3.Cross(e, m.y) // away from the camera, in the meridian plane, square to e
	level := r3.Dot(n, plane.T) + h
	d := level / r3.Dot(n, across)
	if !(d > 0) || math.IsInf(d, 0) {
		return Line{}, fmt.Errorf("%w: a height of %.1f mm is behind the camera", ErrHeight, h)
	}
	return Line{P: r3.Scale(d, across), E: e}, nil
}

// lineThrough returns the line of the meridian plane at heights ha and hb (mm) where the rays ua and ub of a
// parallel line's projector stand. The line it returns starts at its foot of the perpendicular.
func (m meridianPlane) lineThrough(plane Pose, p Projector, ua, ha, ub, hb float64) (Line, error) {
	a, okA := meet(plane, p.ray(ua), ha)
	b, okB := meet(plane, p.ray(ub), hb)
	if !okA || !okB || r3.Norm(r3.Sub(b, a)) == 0 {
		return Line{}, fmt.Errorf("%w: it does not lie before the camera", ErrHeight)
	}
	e := r3.Unit(r3.Sub(b, a))
	if r3.Dot(e, m.x) < 0 {
		e = r3.Scale(-1, e)
	}
	return Line{P: r3.Sub(a, r3.Scale(r3.Dot(a, e), e)), E: e}, nil
}

// ray is the direction u in the meridian plane.
func (p Projector) ray(u float64) r3.Vec { return r3.Add(p.z, r3.Scale(u, p.x)) }

// meet returns where a ray of the camera meets the plane at height h, camera's frame.
func meet(plane Pose, dir r3.Vec, h float64) (r3.Vec, bool) {
	w, ok := plane.Meet(dir, h)
	return plane.ToCamera(w), ok
}
