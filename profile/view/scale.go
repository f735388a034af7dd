package view

import (
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

// Scaled returns the scene with every distance multiplied by k: it looks the same in the picture.
func (s Scene) Scaled(k float64) Scene {
	s.Plane.T = r3.Scale(k, s.Plane.T)
	s.Axis.P = r3.Scale(k, s.Axis.P)
	return s
}

// Scaled returns the reference with every distance multiplied by k: it looks the same in the picture.
func (r Reference) Scaled(k float64) Reference {
	r.Plane.T = r3.Scale(k, r.Plane.T)
	cov := make([][]float64, len(r.Cov))
	for i, row := range r.Cov {
		cov[i] = append([]float64(nil), row...)
		for j := range row {
			if i >= atShift {
				cov[i][j] *= k
			}
			if j >= atShift {
				cov[i][j] *= k
			}
		}
	}
	r.Cov = cov
	return r
}

// ScaleTrace returns the trace with every length multiplied by k.
func ScaleTrace(t profile.Trace, k float64) profile.Trace {
	samples := make([]profile.Sample, len(t.Samples))
	for i, s := range t.Samples {
		s.X, s.R, s.U, s.Shared = k*s.X, k*s.R, k*s.U, k*s.Shared
		s.Sides[0], s.Sides[1] = k*s.Sides[0], k*s.Sides[1]
		samples[i] = s
	}
	return profile.Trace{Length: k * t.Length, ULength: k * t.ULength, Samples: samples}
}

// withScaleSigma returns the reference with the standard deviation of the scale itself, a fraction, in place of what
// it had.
func (r Reference) withScaleSigma(sigma float64) Reference {
	more := sigma*sigma - r.SigmaScale*r.SigmaScale
	r = r.Scaled(1) // a covariance of its own
	t := [3]float64{r.Plane.T.X, r.Plane.T.Y, r.Plane.T.Z}
	for i := range 3 {
		for j := range 3 {
			r.Cov[atShift+i][atShift+j] += more * t[i] * t[j]
		}
	}
	r.SigmaScale = sigma
	return r
}
