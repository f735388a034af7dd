package view

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

var errFlat = errors.New("its corners lie on a line or on one point")

// homography returns H with seen ~ H (plane, 1), by the direct linear transformation on normalised points
// (Hartley and Zisserman, Multiple View Geometry, algorithm 4.2). It takes four points or more.
func homography(plane, seen []r2.Vec) ([3][3]float64, error) {
	a, ta := normalised(plane)
	b, tb := normalised(seen)
	m := mat.NewDense(2*len(a)+1, 9, nil) // one row of zeros: four points still make a square matrix
	for i, p := range a {
		q := b[i]
		m.SetRow(2*i, []float64{0, 0, 0, -p.X, -p.Y, -1, q.Y * p.X, q.Y * p.Y, q.Y})
		m.SetRow(2*i+1, []float64{p.X, p.Y, 1, 0, 0, 0, -q.X * p.X, -q.X * p.Y, -q.X})
	}
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDThin) {
		return [3][3]float64{}, errFlat
	}
	s := svd.Values(nil)
	// A second null direction means that the points do not fix a homography. Noise of a hundredth of the
	// board's size still leaves the eighth value above this.
	if s[7] < 1e-6*s[0] {
		return [3][3]float64{}, errFlat
	}
	var v mat.Dense
	svd.VTo(&v)
	var h [3][3]float64
	for i := range 9 {
		h[i/3][i%3] = v.At(i, 8)
	}
	return multiply(tb.inverse(), multiply(h, ta.matrix())), nil
}

// similarity takes p to k (p - c).
type similarity struct {
	k float64
	c r2.Vec
}

func (s similarity) matrix() [3][3]float64 {
	return [3][3]float64{{s.k, 0, -s.k * s.c.X}, {0, s.k, -s.k * s.c.Y}, {0, 0, 1}}
}

func (s similarity) inverse() [3][3]float64 {
	return [3][3]float64{{1 / s.k, 0, s.c.X}, {0, 1 / s.k, s.c.Y}, {0, 0, 1}}
}

// normalised moves points to their centroid and to a mean distance of sqrt 2.
func normalised(p []r2.Vec) ([]r2.Vec, similarity) {
	var c r2.Vec
	for _, q := range p {
		c = r2.Add(c, q)
	}
	c = r2.Scale(1/float64(len(p)), c)
	mean := 0.0
	for _, q := range p {
		mean += r2.Norm(r2.Sub(q, c)) / float64(len(p))
	}
	s := similarity{k: math.Sqrt2 / math.Max(mean, 1e-300), c: c}
	out := make([]r2.Vec, len(p))
	for i, q := range p {
		out[i] = r2.Scale(s.k, r2.Sub(q, c))
	}
	return out, s
}

// poseOf returns the pose that a camera without distortion sees as homography h, plane coordinates in mm.
func poseOf(c Camera, h [3][3]float64) (Pose, error) {
	inv := [3][3]float64{{1 / c.F, 0, -c.Cx / c.F}, {0, 1 / c.F, -c.Cy / c.F}, {0, 0, 1}}
	m := multiply(inv, h)
	x, y, t := column(m, 0), column(m, 1), column(m, 2)
	k := 1 / math.Sqrt(r3.Norm(x)*r3.Norm(y))
	if t.Z < 0 {
		k = -k
	}
	x, y, t = r3.Scale(k, x), r3.Scale(k, y), r3.Scale(k, t)
	r, ok := nearestRotation(fromColumns(x, y, r3.Cross(x, y)))
	if !ok {
		return Pose{}, errFlat
	}
	p := Pose{R: r, T: t}
	if p.Eye().Z <= 0 {
		return Pose{}, errors.New("its corners are in mirror order")
	}
	return p, nil
}
