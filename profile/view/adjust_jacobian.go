package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// jacobian fills jac, row-major with one row a residual, with the derivatives of the residuals at parameters p: in
// closed form, since differences would ask for every residual two times a parameter.
func (m model) jacobian(p, jac []float64) {
	clear(jac)
	n := len(p)
	row := func(i int) []float64 { return jac[i*n : (i+1)*n] }
	at, turned := m.at(p), leftJacobian(vec3(p[atTurn:]))
	depth := at.plane.T.Z - p[atShift+2]
	at.priorSlopes(row)
	i := priors
	for k, g := range at.groups {
		place, sin, cos := at.inCamera(g), math.Sin(g.place.Z), math.Cos(g.place.Z)
		for _, q := range g.at {
			x := place.ToCamera(r3.Vec{X: q.X, Y: q.Y})
			for c, s := range at.camera.slopes(x) {
				out := row(i + c)
				s = s.times(-1 / g.sigma) // residuals are seen minus computed
				at.commonSlopes(out, s, r3.Sub(x, at.plane.T), depth, turned)
				if k > 0 {
					in := turnBack(at.plane.R, s.point)
					arm := r2.Vec{X: -q.X*sin - q.Y*cos, Y: q.X*cos - q.Y*sin}
					put(out[nCommon+3*(k-1):], r3.Vec{X: in.X, Y: in.Y, Z: in.X*arm.X + in.Y*arm.Y})
				}
			}
			i += 2
		}
	}
	if m.square > 0 {
		for c := range 2 {
			moved := r3.Cross(column(at.plane.R, c), r3.Vec{Z: 1 / m.square})
			put(row(i + c)[atTurn:], turnBack(turned, moved))
		}
	}
}

// priorSlopes fills the rows of the priors.
func (m model) priorSlopes(row func(i int) []float64) {
	lens := m.prior.lens(m.camera.Width, m.camera.Height)
	k := math.Pow(lens.Camera.F/m.camera.F, 2)
	row(0)[atF] = 1 / m.prior.Sigma
	row(1)[atCx], row(2)[atCy] = 1/lens.SigmaCentre, 1/lens.SigmaCentre
	row(3)[atK1], row(3)[atF] = k/lens.SigmaK1, -2*m.camera.K1*k/lens.SigmaK1
	row(4)[atK2], row(4)[atF] = k*k/lens.SigmaK2, -4*m.camera.K2*k*k/lens.SigmaK2
}

// commonSlopes fills in the derivatives of a pixel coordinate by the camera and the pose of the plane. arm is the point
// counted from the plane's origin, camera's frame.
func (m model) commonSlopes(out []float64, s pixelSlopes, arm r3.Vec, depth float64, turned [3][3]float64) {
	copy(out, s.lens[:])
	out[atF] += s.point.Z * depth
	put(out[atTurn:], turnBack(turned, r3.Cross(arm, s.point)))
	put(out[atShift:], s.point)
}

func put(out []float64, v r3.Vec) { out[0], out[1], out[2] = v.X, v.Y, v.Z }

// pixelSlopes are the derivatives of one coordinate of a pixel by ln F, Cx, Cy, K1 and K2 and by the point it shows.
type pixelSlopes struct {
	lens  [atTurn]float64
	point r3.Vec
}

func (s pixelSlopes) times(k float64) pixelSlopes {
	for i := range s.lens {
		s.lens[i] *= k
	}
	s.point = r3.Scale(k, s.point)
	return s
}

// slopes are those of both coordinates of the pixel that shows x, camera's frame; none for a point that is not seen.
func (c Camera) slopes(x r3.Vec) (out [2]pixelSlopes) {
	n := r2.Vec{X: x.X / x.Z, Y: x.Y / x.Z}
	s := n.X*n.X + n.Y*n.Y
	if fold := c.fold(); !(x.Z > 0 && s < fold*fold) {
		return out
	}
	j, d := c.Jacobian(n), c.stretch(s)
	for i, v := range [2]float64{n.X, n.Y} {
		out[i].lens[atF], out[i].lens[atK1], out[i].lens[atK2] = c.F*v*d, c.F*v*s, c.F*v*s*s
		out[i].lens[atCx+i] = 1
		out[i].point = r3.Vec{X: j[i][0] / x.Z, Y: j[i][1] / x.Z, Z: -(j[i][0]*n.X + j[i][1]*n.Y) / x.Z}
	}
	return out
}

// leftJacobian is the matrix J with exp(w + dw) = exp(J dw) exp(w) for rotation vectors: I + (1 - cos a)/a² X +
// (a - sin a)/a³ X², a the angle and X the cross product with w (Chirikjian, Stochastic Models 2, 10.86).
func leftJacobian(w r3.Vec) [3][3]float64 {
	angle := r3.Norm(w)
	b, c := 0.5, 1.0/6
	if angle > 1e-4 { // below, the next terms of the series are under 1e-9 of these
		h := math.Sin(angle/2) / (angle / 2)
		b, c = h*h/2, (angle-math.Sin(angle))/(angle*angle*angle)
	}
	x := [3][3]float64{{0, -w.Z, w.Y}, {w.Z, 0, -w.X}, {-w.Y, w.X, 0}}
	xx := multiply(x, x)
	var out [3][3]float64
	for i := range 3 {
		for j := range 3 {
			out[i][j] = b*x[i][j] + c*xx[i][j]
		}
		out[i][i]++
	}
	return out
}
