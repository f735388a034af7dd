package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// filmDiagonal is the diagonal of the 36 x 24 mm frame that equivalent focal lengths refer to, mm.
const filmDiagonal = 43.26661530556787

// NewCamera returns an undistorted camera for pictures of width x height pixels and a 35 mm equivalent focal
// length in mm: the ratio of focal length to diagonal is that of the 36 x 24 mm frame (CIPA DCG-001), the
// principal point is the middle.
func NewCamera(width, height int, focal35 float64) Camera {
	w, h := float64(width), float64(height)
	return Camera{
		F:  focal35 * math.Hypot(w, h) / filmDiagonal,
		Cx: (w - 1) / 2, Cy: (h - 1) / 2,
		Width: width, Height: height,
	}
}

// Focal35 returns the 35 mm equivalent focal length, mm.
func (c Camera) Focal35() float64 {
	return c.F * filmDiagonal / math.Hypot(float64(c.Width), float64(c.Height))
}

// Distort returns the pixel that shows the ideal normalised point n = (X/Z, Y/Z).
func (c Camera) Distort(n r2.Vec) r2.Vec {
	d := c.stretch(n.X*n.X + n.Y*n.Y)
	return r2.Vec{X: c.Cx + c.F*n.X*d, Y: c.Cy + c.F*n.Y*d}
}

// Undistort returns the ideal normalised point (X/Z, Y/Z) that pixel p shows. A pixel further out than the
// distortion model reaches is held to its fold, so the result is always finite.
func (c Camera) Undistort(p r2.Vec) r2.Vec {
	x, y := (p.X-c.Cx)/c.F, (p.Y-c.Cy)/c.F
	seen := math.Hypot(x, y)
	if seen == 0 || c.K1 == 0 && c.K2 == 0 {
		return r2.Vec{X: x, Y: y}
	}
	k := c.ideal(seen) / seen
	return r2.Vec{X: x * k, Y: y * k}
}

// Project returns the pixel that shows the point x of the camera's frame; false when the point is not in front
// of the camera or lies so far out that the distortion model folds back.
func (c Camera) Project(x r3.Vec) (r2.Vec, bool) {
	if x.Z <= 0 {
		return r2.Vec{}, false
	}
	n := r2.Vec{X: x.X / x.Z, Y: x.Y / x.Z}
	return c.Distort(n), math.Hypot(n.X, n.Y) < c.fold()
}

// Ray returns the unit direction in the camera's frame that pixel p looks along.
func (c Camera) Ray(p r2.Vec) r3.Vec {
	n := c.Undistort(p)
	return r3.Unit(r3.Vec{X: n.X, Y: n.Y, Z: 1})
}

// Jacobian returns d(pixel)/d(ideal normalised point) at the ideal point n: tangents of a curve go from ideal to
// pixels by J, normals from pixels to ideal by its transpose.
func (c Camera) Jacobian(n r2.Vec) [2][2]float64 {
	s := n.X*n.X + n.Y*n.Y
	d, e := c.stretch(s), 2*(c.K1+2*c.K2*s)
	return [2][2]float64{
		{c.F * (d + e*n.X*n.X), c.F * e * n.X * n.Y},
		{c.F * e * n.X * n.Y, c.F * (d + e*n.Y*n.Y)},
	}
}

// stretch is the factor 1 + k1 s + k2 s² at squared ideal radius s.
func (c Camera) stretch(s float64) float64 { return 1 + s*(c.K1+s*c.K2) }

// fold is the ideal radius at which the seen radius r + k1 r³ + k2 r⁵ stops growing; +Inf if it never does.
func (c Camera) fold() float64 {
	// 1 + 3 k1 s + 5 k2 s² = 0; the stable form of the smaller positive root.
	b, disc := 3*c.K1, 9*c.K1*c.K1-20*c.K2
	if disc < 0 {
		return math.Inf(1)
	}
	root := math.Sqrt(disc)
	if q := -b + root; b < 0 && q > 0 {
		return math.Sqrt(2 / q)
	}
	if b >= 0 && c.K2 < 0 {
		return math.Sqrt((b + root) / (-10 * c.K2))
	}
	return math.Inf(1)
}

// ideal solves r + k1 r³ + k2 r⁵ = seen for r within the fold by Newton's method, held to a bracket that
// shrinks at every step and halved where Newton would leave it.
func (c Camera) ideal(seen float64) float64 {
	lo, hi := 0.0, c.fold()
	if math.IsInf(hi, 1) {
		for hi = seen; hi*c.stretch(hi*hi) < seen; {
			hi *= 2
		}
	} else if hi*c.stretch(hi*hi) <= seen {
		return hi
	}
	r := math.Min(seen, hi)
	// Convergence is quadratic away from the fold and by halves next to it: 100 steps reach the last bits anyway.
	for range 100 {
		s := r * r
		g := r*c.stretch(s) - seen
		if g > 0 {
			hi = r
		} else {
			lo = r
		}
		step := g / (1 + s*(3*c.K1+5*c.K2*s))
		if math.Abs(step) <= 1e-15*r {
			return r - step
		}
		if r -= step; !(r > lo && r < hi) {
			r = (lo + hi) / 2
		}
	}
	return r
}
