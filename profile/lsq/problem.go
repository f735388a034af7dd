package lsq

import (
	"errors"
	"math"
)

// Problem is a sum of squares to be made small. Residuals are expected to be divided by their standard
// deviations, so that a cost near their number is a good fit and the covariance needs no scale.
type Problem struct {
	// Start is where the search begins, one value a parameter.
	Start []float64
	// Count is the number of residuals.
	Count int
	// Residuals fills r (length Count) for parameters p. It must not keep either slice.
	Residuals func(p, r []float64)
	// Jacobian fills the Count x len(p) matrix jac, row-major, with dr/dp. Nil: central differences.
	Jacobian func(p, jac []float64)
	// Lower and Upper bound the parameters; nil = unbounded.
	Lower, Upper []float64
	// Scale is a typical size of each parameter, which sets the step of differences (1e-6 of it);
	// nil = the size of the start value, at least 1.
	Scale []float64
}

// Settings tune the search. The zero value works.
type Settings struct {
	// Iterations is the largest number of accepted or refused steps; 0 = 60.
	Iterations int
	// Huber is the residual beyond which the loss grows linearly; 0 = plain least squares.
	Huber float64
	// Tolerance ends the search when a step lowers the cost by less than this fraction; 0 = 1e-10.
	Tolerance float64
}

// Result is where the search ended.
type Result struct {
	P          []float64
	Residuals  []float64 // at P, without the robust weights
	Cost       float64   // sum of the (robust) squares at P
	Iterations int
	Converged  bool
	// Information is the Gauss-Newton matrix JᵀWJ at P, row-major.
	Information []float64
}

// Errors that Solve returns.
var (
	ErrShape = errors.New("lsq: start, bounds and scale must have one value a parameter, and there must be a residual")
	ErrStart = errors.New("lsq: a residual is not finite at the start")
)

func (p Problem) check() error {
	n := len(p.Start)
	bad := func(v []float64) bool { return v != nil && len(v) != n }
	if n == 0 || p.Count == 0 || p.Residuals == nil || bad(p.Lower) || bad(p.Upper) || bad(p.Scale) {
		return ErrShape
	}
	return nil
}

func (s Settings) withDefaults() Settings {
	if s.Iterations == 0 {
		s.Iterations = 60
	}
	if s.Tolerance == 0 {
		s.Tolerance = 1e-10
	}
	return s
}

// clamp holds v within the bounds.
func (p Problem) clamp(v []float64) {
	for i := range v {
		if p.Lower != nil {
			v[i] = math.Max(v[i], p.Lower[i])
		}
		if p.Upper != nil {
			v[i] = math.Min(v[i], p.Upper[i])
		}
	}
}

// step is the size of the difference in parameter i.
func (p Problem) step(i int, v float64) float64 {
	const fraction = 1e-6 // central differences: error ~ fraction² of the third derivative, rounding ~ 1e-16/fraction
	if p.Scale != nil {
		return fraction * p.Scale[i]
	}
	return fraction * math.Max(1, math.Abs(v))
}
