package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The derivatives in closed form are those that differences give, away from the start too.
func TestJacobianAgreesWithDifferences(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	c := NewCamera(3000, 2000, 28)
	c.K1, c.K2 = -0.03, 0.01
	s := photograph(c, facing(600, 0.2, -0.3, 0.1), []laid{{0, 0, 0}, {-200, -120, 0.7}}, 0.1, rng)
	m := model{camera: c, plane: s.plane, prior: Focal{F35: 30, Sigma: 0.1}, square: 0.05}
	for i, b := range s.boards {
		g, err := b.group()
		if err != nil {
			t.Fatal(err)
		}
		g.place = r3.Scale(float64(i), r3.Vec{X: -200, Y: -120, Z: 0.7})
		m.groups = append(m.groups, g)
	}
	n := nCommon + 3
	p := make([]float64, n)
	for i, v := range m.scales(n) {
		p[i] = 0.02 * v * rng.NormFloat64()
	}
	want := mat.NewDense(m.count(), n, nil)
	for j, scale := range m.scales(n) {
		move := func(out, at []float64) {
			q := append([]float64(nil), p...)
			q[j] += at[0]
			m.at(q).residuals(out)
		}
		column := mat.NewDense(m.count(), 1, nil)
		fd.Jacobian(column, move, []float64{0}, &fd.JacobianSettings{Formula: fd.Central, Step: 1e-5 * scale})
		want.SetCol(j, mat.Col(nil, 0, column))
	}
	got := make([]float64, m.count()*n)
	m.jacobian(p, got)
	for i := range m.count() {
		for j := range n {
			w := want.At(i, j)
			if d := math.Abs(got[i*n+j] - w); d > 1e-5*(math.Abs(w)+mat.Norm(want.ColView(j), math.Inf(1))) {
				t.Fatalf("residual %d by parameter %d: %g, differences give %g", i, j, got[i*n+j], w)
			}
		}
	}
}

func TestPointsOutOfSightHaveNoSlopes(t *testing.T) {
	c := NewCamera(3000, 2000, 28)
	c.K1 = -0.3
	for _, x := range []r3.Vec{{X: 1, Y: 1, Z: -1}, {X: 2, Z: 1}} {
		if s := c.slopes(x); s != [2]pixelSlopes{} {
			t.Errorf("%v: slopes %v", x, s)
		}
	}
}
