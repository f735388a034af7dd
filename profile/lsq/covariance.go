package lsq

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Covariance returns the covariance of the parameters, row-major, as the inverse of the information matrix.
// A direction that nothing determines gets a large variance (pseudo-inverse with a floor of 1e-14 of the
// largest scaled eigenvalue), so that it shows up as unknown instead of as an error.
func (r Result) Covariance() []float64 {
	n := len(r.P)
	scale := make([]float64, n)
	for i := range scale {
		scale[i] = 1
		if v := r.Information[i*n+i]; v > 0 {
			scale[i] = 1 / math.Sqrt(v)
		}
	}
	a := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			a.SetSym(i, j, r.Information[i*n+j]*scale[i]*scale[j])
		}
	}
	var eig mat.EigenSym
	out := make([]float64, n*n)
	if !eig.Factorize(a, true) {
		for i := range n {
			out[i*n+i] = math.Inf(1)
		}
		return out
	}
	values := eig.Values(nil)
	var vec mat.Dense
	eig.VectorsTo(&vec)
	floor := 1e-14 * values[n-1]
	for i := range n {
		for j := range n {
			sum := 0.0
			for k, v := range values {
				sum += vec.At(i, k) * vec.At(j, k) / math.Max(v, floor)
			}
			out[i*n+j] = sum * scale[i] * scale[j]
		}
	}
	return out
}
