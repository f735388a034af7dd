package view

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Reference is the camera and the plane that a scale in the picture gives.
type Reference struct {
	Camera Camera
	Plane  Pose
	// RMS is the root mean square distance between the scale's points as seen and as computed, px.
	RMS float64
	// Cov is the joint covariance of, in this order: F, Cx, Cy (px), K1, K2, a rotation vector (3, radians; the true
	// rotation is exp(w) times Plane.R) and Plane.T (3, mm; the scale's own uncertainty is in it).
	Cov [][]float64
	// SigmaF and SigmaScale are fractions: of the focal length, and of lengths in the plane.
	SigmaF, SigmaK1, SigmaScale float64
	// FocalObserved and K1Observed say that the picture, more than what was known before, determined them.
	FocalObserved, K1Observed bool
	// Residuals are seen minus computed positions, px, per board (or one group for a rule) in the order given.
	Residuals [][]r2.Vec
	// Notes are what the user should know, in plain words.
	Notes []string
}

// The places of the parameters in Cov.
const (
	atF = iota
	atCx
	atCy
	atK1
	atK2
	atTurn             // 3
	atShift = iota + 2 // 3
	nCommon = iota + 4
)

// Variants returns the references one standard deviation away from r, one for each independent direction of
// Cov. The variance of any result g is the sum of (g(variant) - g(r))² over them.
func (r Reference) Variants() []Reference {
	var out []Reference
	for _, step := range r.directions() {
		out = append(out, r.moved(step))
	}
	return out
}

// directions are the steps of one standard deviation in the independent directions of Cov.
func (r Reference) directions() [][]float64 {
	n := len(r.Cov)
	if n == 0 {
		return nil
	}
	// Directions of the correlation matrix: px, radians and mm do not mix well otherwise.
	dev := make([]float64, n)
	for i := range dev {
		dev[i] = math.Sqrt(math.Max(0, r.Cov[i][i]))
	}
	corr := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			if d := dev[i] * dev[j]; d > 0 {
				corr.SetSym(i, j, r.Cov[i][j]/d)
			}
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(corr, true) {
		return nil
	}
	var vec mat.Dense
	eig.VectorsTo(&vec)
	var out [][]float64
	for k, v := range eig.Values(nil) {
		if v <= 0 {
			continue
		}
		step := make([]float64, n)
		for i := range step {
			step[i] = math.Sqrt(v) * vec.At(i, k) * dev[i]
		}
		out = append(out, step)
	}
	return out
}

// variance returns the variance of g over the reference's variants.
func (r Reference) variance(g func(Reference) float64) float64 {
	sum, at := 0.0, g(r)
	for _, v := range r.Variants() {
		d := g(v) - at
		sum += d * d
	}
	return sum
}

// moved returns r with its parameters changed by step, in the order of Cov. Only camera and plane move.
func (r Reference) moved(step []float64) Reference {
	r.Camera.F += step[atF]
	r.Camera.Cx += step[atCx]
	r.Camera.Cy += step[atCy]
	r.Camera.K1 += step[atK1]
	r.Camera.K2 += step[atK2]
	r.Plane = r.Plane.rotated(vec3(step[atTurn:]))
	r.Plane.T = r3.Add(r.Plane.T, vec3(step[atShift:]))
	return r
}

func vec3(v []float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }
