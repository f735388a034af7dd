package vision

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// homography takes points of one plane to another's, row-major, with h[8] = 1 where the first plane's points were centred.
type homography struct {
	h          [9]float64
	from, to   r2.Vec // centres
	fromS, toS float64
}

// apply maps a point.
func (m homography) apply(p r2.Vec) r2.Vec {
	q := r2.Scale(1/m.fromS, r2.Sub(p, m.from))
	w := m.h[6]*q.X + m.h[7]*q.Y + m.h[8]
	x := r2.Vec{X: (m.h[0]*q.X + m.h[1]*q.Y + m.h[2]) / w, Y: (m.h[3]*q.X + m.h[4]*q.Y + m.h[5]) / w}
	return r2.Add(m.to, r2.Scale(m.toS, x))
}

// fitHomography is the least-squares homography from a[i] to b[i] by the normalised direct linear transform (Hartley 1997).
func fitHomography(a, b []r2.Vec) (homography, error) {
	var m homography
	if len(a) < 4 || len(a) != len(b) {
		return m, errors.New("a homography needs four pairs of points")
	}
	m.from, m.fromS = spread(a)
	m.to, m.toS = spread(b)
	if m.fromS == 0 || m.toS == 0 {
		return m, errors.New("the points of a homography coincide")
	}
	lhs, rhs := mat.NewDense(2*len(a), 8, nil), mat.NewVecDense(2*len(a), nil)
	for i := range a {
		p, q := r2.Scale(1/m.fromS, r2.Sub(a[i], m.from)), r2.Scale(1/m.toS, r2.Sub(b[i], m.to))
		lhs.SetRow(2*i, []float64{p.X, p.Y, 1, 0, 0, 0, -q.X * p.X, -q.X * p.Y})
		lhs.SetRow(2*i+1, []float64{0, 0, 0, p.X, p.Y, 1, -q.Y * p.X, -q.Y * p.Y})
		rhs.SetVec(2*i, q.X)
		rhs.SetVec(2*i+1, q.Y)
	}
	var x mat.VecDense
	if err := x.SolveVec(lhs, rhs); err != nil {
		return m, errors.New("the points of a homography lie in a line")
	}
	copy(m.h[:8], x.RawVector().Data)
	m.h[8] = 1
	return m, nil
}

// spread is the centre of points and their mean distance from it.
func spread(ps []r2.Vec) (centre r2.Vec, size float64) {
	for _, p := range ps {
		centre = r2.Add(centre, p)
	}
	centre = r2.Scale(1/float64(len(ps)), centre)
	for _, p := range ps {
		size += r2.Norm(r2.Sub(p, centre))
	}
	return centre, size / float64(len(ps))
}

// misfit is the root mean square distance of b[i] from where the homography takes a[i].
func (m homography) misfit(a, b []r2.Vec) float64 {
	sum := 0.0
	for i := range a {
		sum += r2.Norm2(r2.Sub(m.apply(a[i]), b[i]))
	}
	return math.Sqrt(sum / float64(len(a)))
}
