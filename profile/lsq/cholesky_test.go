package lsq

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The small solver agrees with gonum's, and refuses what is not positive definite.
func TestCholesky(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 2, 5, 14} {
		j := mat.NewDense(n+3, n, nil)
		j.Apply(func(_, _ int, _ float64) float64 { return rng.NormFloat64() }, j)
		var a mat.Dense
		a.Mul(j.T(), j)
		b := mat.NewVecDense(n, nil)
		for i := range n {
			b.SetVec(i, rng.NormFloat64())
		}
		var want mat.VecDense
		if err := want.SolveVec(&a, b); err != nil {
			t.Fatal(err)
		}
		got := append([]float64(nil), b.RawVector().Data...)
		if !cholesky(append([]float64(nil), a.RawMatrix().Data...), got) {
			t.Fatalf("%d unknowns: refused", n)
		}
		for i, v := range got {
			if math.Abs(v-want.AtVec(i)) > 1e-9*(1+math.Abs(v)) {
				t.Errorf("%d unknowns: x[%d] = %g, want %g", n, i, v, want.AtVec(i))
			}
		}
	}
	if cholesky([]float64{1, 0, 2, 1}, []float64{1, 1}) {
		t.Error("an indefinite matrix was taken")
	}
}
