package lsq

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// solver holds the work space of one search.
type solver struct {
	Problem
	set      Settings
	jac      []float64
	fwd, bwd []float64
	weight   []float64
}

// Solve minimises the problem by Levenberg-Marquardt with Marquardt's scaling of the damping (Nocedal and
// Wright, Numerical Optimization, chapter 10) and iteratively reweighted Huber loss.
func Solve(p Problem, s Settings) (Result, error) {
	if err := p.check(); err != nil {
		return Result{}, err
	}
	n := len(p.Start)
	w := &solver{Problem: p, set: s.withDefaults(), jac: make([]float64, p.Count*n),
		fwd: make([]float64, p.Count), bwd: make([]float64, p.Count), weight: make([]float64, p.Count)}
	res := Result{P: append([]float64(nil), p.Start...), Residuals: make([]float64, p.Count)}
	p.clamp(res.P)
	p.Residuals(res.P, res.Residuals)
	res.Cost = w.cost(res.Residuals)
	if math.IsNaN(res.Cost) || math.IsInf(res.Cost, 0) {
		return res, ErrStart
	}
	w.run(&res)
	w.linearise(res.P, res.Residuals)
	info, _ := w.normal(res.Residuals)
	res.Information = info.RawSymmetric().Data
	fillLower(res.Information, n)
	return res, nil
}

func (w *solver) run(res *Result) {
	lambda := 1e-3
	trial := make([]float64, len(res.P))
	r := make([]float64, w.Count)
	fresh := false
	var info *mat.SymDense
	var grad []float64
	for res.Iterations = 0; res.Iterations < w.set.Iterations; res.Iterations++ {
		if !fresh {
			w.linearise(res.P, res.Residuals)
			info, grad = w.normal(res.Residuals)
			w.pin(res.P, info, grad)
			fresh = true
		}
		if !damped(info, grad, lambda, trial) {
			lambda *= 10
			continue
		}
		moved := false
		for i := range trial {
			trial[i] += res.P[i]
		}
		w.clamp(trial)
		for i := range trial {
			moved = moved || trial[i] != res.P[i]
		}
		w.Residuals(trial, r)
		c := w.cost(r)
		if c < res.Cost {
			gain := res.Cost - c
			copy(res.P, trial)
			copy(res.Residuals, r)
			res.Cost, fresh = c, false
			lambda = math.Max(lambda/8, 1e-12)
			if gain <= w.set.Tolerance*(c+1e-30) {
				res.Converged = true
				return
			}
			continue
		}
		if !moved || lambda > 1e12 {
			res.Converged = true
			return
		}
		lambda *= 6
	}
}

// pin takes the parameters that stand on a bound and are pushed over it out of the linear system, so that the
// others move as if it were fixed.
func (w *solver) pin(p []float64, a *mat.SymDense, g []float64) {
	for i, v := range p {
		low := w.Lower != nil && v <= w.Lower[i] && g[i] < 0
		high := w.Upper != nil && v >= w.Upper[i] && g[i] > 0
		if !low && !high {
			continue
		}
		for j := range p {
			a.SetSym(i, j, 0)
		}
		a.SetSym(i, i, 1)
		g[i] = 0
	}
}

// cost is the Huber loss: squares, and beyond the limit k the tangent 2k|r| - k².
func (w *solver) cost(r []float64) float64 {
	sum, k := 0.0, w.set.Huber
	for _, v := range r {
		if a := math.Abs(v); k > 0 && a > k {
			sum += 2*k*a - k*k
			continue
		}
		sum += v * v
	}
	return sum
}

// linearise fills the Jacobian and the robust weights at p.
func (w *solver) linearise(p, r []float64) {
	k := w.set.Huber
	for i, v := range r {
		w.weight[i] = 1
		if a := math.Abs(v); k > 0 && a > k {
			w.weight[i] = k / a
		}
	}
	if w.Jacobian != nil {
		w.Jacobian(p, w.jac)
		return
	}
	w.difference(p)
}

func (w *solver) difference(p []float64) {
	n := len(p)
	q := append([]float64(nil), p...)
	for j := range p {
		h := w.step(j, p[j])
		q[j] = p[j] + h
		w.Residuals(q, w.fwd)
		q[j] = p[j] - h
		w.Residuals(q, w.bwd)
		q[j] = p[j]
		for i := range w.fwd {
			w.jac[i*n+j] = (w.fwd[i] - w.bwd[i]) / (2 * h)
		}
	}
}

// normal returns JᵀWJ and -JᵀWr. Rows are mostly empty in the problems here, so zeros are passed over.
func (w *solver) normal(r []float64) (*mat.SymDense, []float64) {
	n := len(w.Start)
	a, g := make([]float64, n*n), make([]float64, n)
	cols := make([]int, 0, n)
	for i := range w.Count {
		row := w.jac[i*n : (i+1)*n]
		cols = cols[:0]
		for j, v := range row {
			if v != 0 {
				cols = append(cols, j)
			}
		}
		for x, j := range cols {
			wj := w.weight[i] * row[j]
			g[j] -= wj * r[i]
			for _, k := range cols[x:] {
				a[j*n+k] += wj * row[k]
			}
		}
	}
	return mat.NewSymDense(n, a), g
}

// damped solves (A + lambda diag A) step = g.
func damped(a *mat.SymDense, g []float64, lambda float64, step []float64) bool {
	n := len(g)
	l := make([]float64, n*n)
	for i := range n {
		for j := range i {
			l[i*n+j] = a.At(i, j)
		}
		v := a.At(i, i)
		l[i*n+i] = v + lambda*math.Max(v, 1e-12)
	}
	copy(step, g)
	return cholesky(l, step) && firm(l, n)
}

// mostCondition is the square of the ratio of a factor's pivots from which rounding, not the problem, makes the step:
// what 53 bits tell apart.
const mostCondition = 1e16

// firm reports whether the Cholesky factor l of n unknowns is far enough from singular for its step to be trusted.
func firm(l []float64, n int) bool {
	lo, hi := math.Inf(1), 0.0
	for i := range n {
		lo, hi = math.Min(lo, l[i*n+i]), math.Max(hi, l[i*n+i])
	}
	return hi*hi < mostCondition*lo*lo
}

// cholesky solves A x = b for the lower half of A in a, row-major, which it overwrites with its factor; x replaces b. It is
// for the few unknowns of a fit, where a general routine spends longer on its workspace than on the solution.
func cholesky(a, b []float64) bool {
	n := len(b)
	for i := range n {
		for j := range i + 1 {
			s := a[i*n+j]
			for k := range j {
				s -= a[i*n+k] * a[j*n+k]
			}
			switch {
			case j < i:
				a[i*n+j] = s / a[j*n+j]
			case s > 0:
				a[i*n+i] = math.Sqrt(s)
			default:
				return false
			}
		}
		for k := range i {
			b[i] -= a[i*n+k] * b[k]
		}
		b[i] /= a[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		b[i] /= a[i*n+i]
		for k := range i {
			b[k] -= a[i*n+k] * b[i]
		}
	}
	return true
}

func fillLower(a []float64, n int) {
	for i := range n {
		for j := range i {
			a[i*n+j] = a[j*n+i]
		}
	}
}
