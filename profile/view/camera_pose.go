package view

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// ToCamera takes a point of the plane's frame to the camera's, mm.
func (p Pose) ToCamera(w r3.Vec) r3.Vec { return r3.Add(turn(p.R, w), p.T) }

// ToPlane takes a point of the camera's frame to the plane's, mm.
func (p Pose) ToPlane(c r3.Vec) r3.Vec { return turnBack(p.R, r3.Sub(c, p.T)) }

// Normal returns the plane's z axis in the camera's frame.
func (p Pose) Normal() r3.Vec { return column(p.R, 2) }

// Eye returns the camera's centre in the plane's frame, mm; its Z is the camera's distance from the plane.
func (p Pose) Eye() r3.Vec { return r3.Scale(-1, turnBack(p.R, p.T)) }

// Meet returns the point, in the plane's frame, where the ray from the camera's centre along d (camera's frame)
// meets the plane at height z, mm; false when it does not meet it in front of the camera.
func (p Pose) Meet(d r3.Vec, z float64) (r3.Vec, bool) {
	eye, dir := p.Eye(), turnBack(p.R, d)
	t := (z - eye.Z) / dir.Z
	if !(t > 0) || math.IsInf(t, 0) {
		return r3.Vec{}, false
	}
	return r3.Add(eye, r3.Scale(t, dir)), true
}

// rotated returns the pose with its rotation turned by the rotation vector w (radians, camera's frame) about
// the plane frame's origin.
func (p Pose) rotated(w r3.Vec) Pose {
	p.R = multiply(rotation(w), p.R)
	return p
}

// rotation returns the matrix of a rotation vector by Rodrigues' formula.
func rotation(w r3.Vec) [3][3]float64 {
	angle := r3.Norm(w)
	// sin(a)/a and (1 - cos a)/a², the second by the half angle so that nothing cancels.
	s, c := 1.0, 0.5
	if angle > 1e-8 {
		h := math.Sin(angle/2) / (angle / 2)
		s, c = math.Sin(angle)/angle, h*h/2
	}
	x := [3][3]float64{{0, -w.Z, w.Y}, {w.Z, 0, -w.X}, {-w.Y, w.X, 0}}
	xx := multiply(x, x)
	var out [3][3]float64
	for i := range 3 {
		for j := range 3 {
			out[i][j] = s*x[i][j] + c*xx[i][j]
		}
		out[i][i]++
	}
	return out
}

// nearestRotation returns the rotation closest to a in the Frobenius norm: U V' of its singular value
// decomposition; false when a is singular or not finite.
func nearestRotation(a [3][3]float64) ([3][3]float64, bool) {
	var svd mat.SVD
	m := mat.NewDense(3, 3, []float64{a[0][0], a[0][1], a[0][2], a[1][0], a[1][1], a[1][2], a[2][0], a[2][1], a[2][2]})
	if !svd.Factorize(m, mat.SVDFull) {
		return a, false
	}
	var u, v, r mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	r.Mul(&u, v.T())
	if d := mat.Det(&r); !(d > 0.5) {
		return a, false
	}
	var out [3][3]float64
	for i := range 3 {
		for j := range 3 {
			out[i][j] = r.At(i, j)
		}
	}
	return out, true
}

func turn(r [3][3]float64, v r3.Vec) r3.Vec {
	return r3.Vec{
		X: r[0][0]*v.X + r[0][1]*v.Y + r[0][2]*v.Z,
		Y: r[1][0]*v.X + r[1][1]*v.Y + r[1][2]*v.Z,
		Z: r[2][0]*v.X + r[2][1]*v.Y + r[2][2]*v.Z,
	}
}

func turnBack(r [3][3]float64, v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(column(r, 0), v), Y: r3.Dot(column(r, 1), v), Z: r3.Dot(column(r, 2), v)}
}

func column(r [3][3]float64, j int) r3.Vec { return r3.Vec{X: r[0][j], Y: r[1][j], Z: r[2][j]} }

func fromColumns(x, y, z r3.Vec) [3][3]float64 {
	return [3][3]float64{{x.X, y.X, z.X}, {x.Y, y.Y, z.Y}, {x.Z, y.Z, z.Z}}
}

func multiply(a, b [3][3]float64) [3][3]float64 {
	var out [3][3]float64
	for i := range 3 {
		for j := range 3 {
			out[i][j] = a[i][0]*b[0][j] + a[i][1]*b[1][j] + a[i][2]*b[2][j]
		}
	}
	return out
}
