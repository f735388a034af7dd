package view

import (
	"math"
	"math/rand/v2"
	"testing"
)

// calibration is that of the scene's camera as good photographs of a board measure it: to 0.05 % in focal length, half a
// thousandth of the width in the middle, 0.001 in k1.
func (s benchScene) calibration(rng *rand.Rand) Calibration {
	c := Calibration{
		Make: "Maker", Model: "Box", Width: s.Camera.Width, Height: s.Camera.Height, Focal35: s.Camera.F35,
		SigmaF: 0.0005 * s.Camera.F, SigmaCx: 0.0005 * float64(s.Camera.Width), SigmaCy: 0.0005 * float64(s.Camera.Width), SigmaK1: 0.001, SigmaK2: 0.002,
		Photos: 6, RMS: 0.1, Date: "2026-11-12",
	}
	c.F = s.Camera.F + c.SigmaF*rng.NormFloat64()
	c.Cx, c.Cy = s.Camera.Cx+c.SigmaCx*rng.NormFloat64(), s.Camera.Cy+c.SigmaCy*rng.NormFloat64()
	c.K1, c.K2 = s.Camera.Dist.K1+c.SigmaK1*rng.NormFloat64(), c.SigmaK2*rng.NormFloat64()
	return c
}

// With their cameras calibrated, bench scenes give the length of the piece's axis within three of its standard deviations, and
// these are smaller than without; boards of exact size, whose own error would hide the camera's.
func TestCalibrationBench(t *testing.T) {
	for n, s := range benchScenes(t, "boards") {
		rng := rand.New(rand.NewPCG(17, uint64(n)))
		boards, cal := s.boards(rng), s.calibration(rng)
		h := Hints{Calibration: &cal}
		seen := Sighting{Make: "Maker", Model: "Box", Width: s.Camera.Width, Height: s.Camera.Height, Focal35: s.Camera.F35}
		var off, sigma [2]float64
		for i, f := range []Focal{ChooseFocal(s.Camera.F35, 0), h.focalOf(seen)} {
			ref, err := Adjust(boards, AdjustOptions{Width: s.Camera.Width, Height: s.Camera.Height, Focal: f, ScaleSigma: 1e-6})
			if err != nil {
				t.Fatalf("%s: %v", s.ID, err)
			}
			off[i], sigma[i] = s.axisLength(ref)-s.Length, math.Sqrt(ref.variance(s.axisLength))
			if math.Abs(off[i]) > 3*sigma[i] {
				t.Errorf("%s: the length is %.3f mm off, standard deviation %.3f", s.ID, off[i], sigma[i])
			}
		}
		t.Logf("%s length %.1f mm: %+.3f (%.3f) mm without a calibration, %+.3f (%.3f) mm with one", s.ID, s.Length, off[0], sigma[0], off[1], sigma[1])
		if sigma[1] > sigma[0] {
			t.Errorf("%s: a calibration makes the length worse: %.3f mm after %.3f mm", s.ID, sigma[1], sigma[0])
		}
	}
}
