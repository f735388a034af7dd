package lsq_test

import (
	"errors"
	"math"
	"testing"

	"spindlestick/profile/lsq"
)

// Misra1a of the NIST Statistical Reference Datasets (nonlinear regression, lower difficulty): certified
// b1 = 2.3894212918E+02, b2 = 5.5015643181E-04, residual sum of squares 1.2455138894E-01, with standard
// deviations 2.7070075241E+00 and 7.2668688436E-06. Values from memory of the published data set.
func TestSolveMisra1a(t *testing.T) {
	y := []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}
	x := []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0}
	p := lsq.Problem{
		Start: []float64{500, 0.0001}, Count: len(x), Scale: []float64{100, 1e-4},
		Residuals: func(b, r []float64) {
			for i := range x {
				r[i] = b[0]*(1-math.Exp(-b[1]*x[i])) - y[i]
			}
		},
	}
	res, err := lsq.Solve(p, lsq.Settings{Iterations: 500, Tolerance: 1e-15})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "b1", res.P[0], 238.94212918, 1e-5)
	near(t, "b2", res.P[1], 5.5015643181e-4, 1e-5)
	near(t, "cost", res.Cost, 0.12455138894, 1e-7)
	s := math.Sqrt(res.Cost / float64(len(x)-2))
	c := res.Covariance()
	near(t, "sd b1", s*math.Sqrt(c[0]), 2.7070075241, 1e-4)
	near(t, "sd b2", s*math.Sqrt(c[3]), 7.2668688436e-6, 1e-4)
}

func near(t *testing.T, name string, got, want, rel float64) {
	t.Helper()
	if math.Abs(got-want) > rel*math.Abs(want) {
		t.Errorf("%s = %.10g, want %.10g", name, got, want)
	}
}

func line(x, y []float64) lsq.Problem {
	return lsq.Problem{Start: []float64{0, 0}, Count: len(x), Residuals: func(p, r []float64) {
		for i := range x {
			r[i] = p[0] + p[1]*x[i] - y[i]
		}
	}}
}

func TestHuberPassesOverAnOutlier(t *testing.T) {
	x, y := make([]float64, 40), make([]float64, 40)
	for i := range x {
		x[i] = float64(i) / 10
		y[i] = 3 + 2*x[i]
	}
	y[35] += 500
	plain, _ := lsq.Solve(line(x, y), lsq.Settings{})
	robust, _ := lsq.Solve(line(x, y), lsq.Settings{Huber: 0.1, Iterations: 300})
	if math.Abs(plain.P[1]-2) < 1 {
		t.Errorf("the outlier moves plain least squares: slope %v", plain.P[1])
	}
	if math.Abs(robust.P[1]-2) > 0.01 {
		t.Errorf("robust slope = %v, want 2", robust.P[1])
	}
}

func TestBoundsHold(t *testing.T) {
	p := line([]float64{0, 1, 2}, []float64{5, 5, 5})
	p.Lower, p.Upper = []float64{-1, -1}, []float64{4, 1}
	res, err := lsq.Solve(p, lsq.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	// Of all lines with intercept at most 4, the closest to 5, 5, 5 has slope 0.6.
	near(t, "intercept", res.P[0], 4, 1e-9)
	near(t, "slope", res.P[1], 0.6, 1e-6)
}

func TestUndeterminedDirectionIsUnknown(t *testing.T) {
	p := lsq.Problem{Start: []float64{1, 1}, Count: 2, Residuals: func(p, r []float64) {
		r[0], r[1] = p[0]+p[1]-3, p[0]+p[1]-3.1
	}}
	res, err := lsq.Solve(p, lsq.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if c := res.Covariance(); c[0] < 1e6 {
		t.Errorf("variance of an undetermined parameter = %v, want it large", c[0])
	}
}

func TestBadProblems(t *testing.T) {
	if _, err := lsq.Solve(lsq.Problem{}, lsq.Settings{}); !errors.Is(err, lsq.ErrShape) {
		t.Errorf("empty problem: %v", err)
	}
	nan := lsq.Problem{Start: []float64{0}, Count: 1, Residuals: func(_, r []float64) { r[0] = math.NaN() }}
	if _, err := lsq.Solve(nan, lsq.Settings{}); !errors.Is(err, lsq.ErrStart) {
		t.Errorf("NaN residual: %v", err)
	}
}
