package view

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Projector turns pixels into axis coordinates and back. Axis coordinates are tangents of angles, free of
// distortion: a ray u, v runs along u x + v y + z, where x is the axis' direction, z points from the camera
// square onto the axis, and y = z cross x. Side 0 of an outline has v < 0, side 1 has v > 0. A point at
// station s (mm from the hook end) lies at s - Foot along x.
type Projector struct {
	Camera Camera
	D      float64 // distance of the camera from the axis, mm
	Foot   float64 // station of the foot of the perpendicular from the camera onto the axis, mm

	x, y, z r3.Vec
}

// ErrAxis is wrapped where an axis cannot be looked at.
var ErrAxis = errors.New("the axis passes through the camera or lies behind it")

// NewProjector prepares a scene; it fails when the axis passes through the camera or lies behind it.
func NewProjector(s Scene) (Projector, error) {
	e := r3.Unit(s.Axis.E)
	foot := r3.Sub(s.Axis.P, r3.Scale(r3.Dot(s.Axis.P, e), e))
	d := r3.Norm(foot)
	p := Projector{Camera: s.Camera, D: d, Foot: -r3.Dot(s.Axis.P, e), x: e}
	if !(d > 0) || math.IsInf(d, 0) || !(s.Axis.P.Z > 0) {
		return p, ErrAxis
	}
	p.z = r3.Scale(1/d, foot)
	p.y = r3.Cross(p.z, p.x)
	return p, nil
}

// ToAxis returns the axis coordinates of pixel p.
func (p Projector) ToAxis(px r2.Vec) (u, v float64) {
	n := p.Camera.Undistort(px)
	return p.fromIdeal(n)
}

func (p Projector) fromIdeal(n r2.Vec) (u, v float64) {
	w := r3.Vec{X: n.X, Y: n.Y, Z: 1}
	depth := r3.Dot(p.z, w)
	return r3.Dot(p.x, w) / depth, r3.Dot(p.y, w) / depth
}

// ToPixel returns the pixel that shows the ray u, v.
func (p Projector) ToPixel(u, v float64) r2.Vec {
	w := r3.Add(p.z, r3.Add(r3.Scale(u, p.x), r3.Scale(v, p.y)))
	return p.Camera.Distort(r2.Vec{X: w.X / w.Z, Y: w.Y / w.Z})
}

// PixelsPer returns the derivative of the pixel by u and by v at the ray u, v.
func (p Projector) PixelsPer(u, v float64) (du, dv r2.Vec) {
	w := r3.Add(p.z, r3.Add(r3.Scale(u, p.x), r3.Scale(v, p.y)))
	n := r2.Vec{X: w.X / w.Z, Y: w.Y / w.Z}
	j := p.Camera.Jacobian(n)
	through := func(d r3.Vec) r2.Vec {
		a, b := (d.X-n.X*d.Z)/w.Z, (d.Y-n.Y*d.Z)/w.Z
		return r2.Vec{X: j[0][0]*a + j[0][1]*b, Y: j[1][0]*a + j[1][1]*b}
	}
	return through(p.x), through(p.y)
}

// across returns how far across the axis, in units of v, a pixel reaches at the ideal normalised point n.
func (p Projector) across(n r2.Vec) float64 {
	j, depth := p.Camera.Jacobian(n), r3.Dot(p.z, r3.Vec{X: n.X, Y: n.Y, Z: 1})
	a, b := p.y.X-n.X*p.y.Z, p.y.Y-n.Y*p.y.Z
	x, y := j[0][0]*a+j[0][1]*b, j[1][0]*a+j[1][1]*b
	return 1 / (depth * math.Sqrt(x*x+y*y))
}

// Station returns the station at which the ray u meets the axis, mm, and U the other way round.
func (p Projector) Station(u float64) float64 { return p.Foot + u*p.D }

// U returns the axis coordinate of station x on the axis.
func (p Projector) U(x float64) float64 { return (x - p.Foot) / p.D }

// MMPerPixel returns how many mm across the axis one pixel covers at station x.
func (p Projector) MMPerPixel(x float64) float64 {
	_, dv := p.PixelsPer(p.U(x), 0)
	return p.D / r2.Norm(dv)
}
