package view

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/mat"
)

// informed returns the reference as known sizes leave it: a diameter at either end shows how the piece tilts, a length
// beside boards in another plane how far the camera is. It is one step of least squares from the reference's covariance
// (GUM-6, or any text on sequential adjustment): r + H z + gain ln k -> 0 over the sizes' residuals r, with the
// directions z of the covariance at standard deviations of 1 about 0. False where the sizes say no more than the scale,
// or contradict the reference.
func (g gauged) informed(s silhouette, at placed, fit ScaleFit) (Reference, bool) {
	if n := len(fit.Residuals); n == 0 || g.free && n < 2 {
		return g.ref, false
	}
	at, s, err := g.near(s, at)
	if err != nil {
		return g.ref, false
	}
	base := g.sizesOf(at).readings(fit.K)
	steps := g.ref.directions()
	change := g.byDirection(s, base, steps, fit.K)
	if change == nil {
		return g.ref, false
	}
	z, cov, ok := adjusted(fit, base, change, g.looseScale(fit), g.heightSigma()/at.p.D)
	if !ok {
		return g.ref, false
	}
	return g.ref.after(steps, z, cov), true
}

// near is a silhouette thinned for looking at scenes nearly the same, and where the present one places it, unscaled.
func (g gauged) near(s silhouette, at placed) (placed, silhouette, error) {
	s = s.beside(at)
	out, err := s.place(g.ref, g.height)
	return out, s, err
}

func (g gauged) sizesOf(at placed) sizes {
	return sizes{trace: at.trace(), known: g.known, length: g.length}
}

// looseScale is the standard deviation that the scale keeps while the rest is adjusted, as a fraction.
func (g gauged) looseScale(fit ScaleFit) float64 {
	if g.free {
		return variantPrior
	}
	return fit.Sigma
}

// byDirection returns how the readings' residuals change with one standard deviation in each direction, mm, scale held;
// nil where a scene cannot be placed.
func (g gauged) byDirection(s silhouette, base []reading, steps [][]float64, k float64) [][]float64 {
	out := make([][]float64, len(steps))
	var wait sync.WaitGroup
	for i, step := range steps {
		wait.Go(func() {
			at, err := s.place(g.ref.moved(step), g.height)
			if err != nil {
				return
			}
			rs := g.sizesOf(at).readings(k)
			if len(rs) != len(base) {
				return
			}
			for j, r := range rs {
				out[i] = append(out[i], r.off-base[j].off)
			}
		})
	}
	wait.Wait()
	for _, c := range out {
		if c == nil {
			return nil
		}
	}
	return out
}

// adjusted solves for the directions and returns them with their covariance. What the height leaves open goes with a
// reading as the scale does.
func adjusted(fit ScaleFit, base []reading, change [][]float64, scale, height float64) ([]float64, *mat.SymDense, bool) {
	n := len(change) // and the scale, last
	a, b := mat.NewSymDense(n+1, nil), mat.NewVecDense(n+1, nil)
	for i := range n {
		a.SetSym(i, i, 1)
	}
	a.SetSym(n, n, 1/(scale*scale))
	row := make([]float64, n+1)
	for j, r := range base {
		w := 1 / (r.sigma*r.sigma + math.Pow(r.gain*height, 2))
		for i := range n {
			row[i] = change[i][j]
		}
		row[n] = -r.gain
		for i := range row {
			b.SetVec(i, b.AtVec(i)-w*row[i]*fit.Residuals[j])
			for k := i; k <= n; k++ {
				a.SetSym(i, k, a.At(i, k)+w*row[i]*row[k])
			}
		}
	}
	var chol mat.Cholesky
	var z mat.VecDense
	inverse := mat.NewSymDense(n+1, nil)
	if !chol.Factorize(a) || chol.SolveVecTo(&z, b) != nil || chol.InverseTo(inverse) != nil {
		return nil, nil, false
	}
	for i := range n {
		if !(math.Abs(z.AtVec(i)) < contradiction) {
			return nil, nil, false
		}
	}
	return z.RawVector().Data[:n], inverse, true
}

// after returns the reference moved by z of its directions, with the covariance that leaves.
func (r Reference) after(steps [][]float64, z []float64, cov *mat.SymDense) Reference {
	n := len(r.Cov)
	step := make([]float64, n)
	out := make([][]float64, n)
	for p := range n {
		out[p] = make([]float64, n)
		for i := range steps {
			step[p] += z[i] * steps[i][p]
		}
		for q := range n {
			for i := range steps {
				for k := range steps {
					out[p][q] += steps[i][p] * cov.At(i, k) * steps[k][q]
				}
			}
		}
	}
	r = r.moved(step)
	r.Cov = out
	r.SigmaF = math.Sqrt(out[atF][atF]) / r.Camera.F
	r.SigmaK1 = math.Sqrt(out[atK1][atK1])
	return r
}
