package view

import "math"

// Lens is what is known of a camera besides its focal length before the reference is looked at.
type Lens struct {
	Camera Camera // the middle of what is expected
	// SigmaCentre (px, both coordinates), SigmaK1 and SigmaK2 are standard deviations.
	SigmaCentre, SigmaK1, SigmaK2 float64
}

// TypicalLens is any lens in front of pictures of width x height pixels at a 35 mm equivalent focal length in mm.
func TypicalLens(width, height int, focal35 float64) Lens {
	return Lens{
		Camera:      NewCamera(width, height, focal35),
		SigmaCentre: centreShare * math.Hypot(float64(width), float64(height)),
		SigmaK1:     k1Sigma, SigmaK2: k2Sigma,
	}
}

// lens returns the calibrated lens if there is one, otherwise a typical one.
func (f Focal) lens(width, height int) Lens {
	if f.Lens != nil {
		return *f.Lens
	}
	return TypicalLens(width, height, f.F35)
}

// start returns the camera to search from at another focal length.
func (f Focal) start(width, height int, focal35 float64) Camera {
	c := f.lens(width, height).Camera
	c.F = NewCamera(width, height, focal35).F
	return c
}

// misses are the residuals of a camera against the lens over their standard deviations: of Cx, Cy, K1, K2.
func (l Lens) misses(c Camera) [4]float64 {
	// Distortion is judged by what it does to pixels, whatever the focal length turns out to be: a prior on k1
	// itself would pull the focal length of a lens that distorts.
	k := math.Pow(l.Camera.F/c.F, 2)
	return [4]float64{
		(c.Cx - l.Camera.Cx) / l.SigmaCentre, (c.Cy - l.Camera.Cy) / l.SigmaCentre,
		(c.K1*k - l.Camera.K1) / l.SigmaK1, (c.K2*k*k - l.Camera.K2) / l.SigmaK2,
	}
}
