package vision

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// Values of the sRGB curve from IEC 61966-2-1: the join of its two parts, and the ends.
func TestLightTable(t *testing.T) {
	table := lightTable(256)
	for _, c := range []struct {
		tone int
		want float64
	}{{0, 0}, {255, 1}, {10, 10 / 255.0 / 12.92}, {128, math.Pow((128/255.0+0.055)/1.055, 2.4)}} {
		if got := float64(table[c.tone]); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("tone %d: %g, want %g", c.tone, got, c.want)
		}
	}
	for i := range 256 {
		if back := 255 * toTone(float64(table[i])); math.Abs(back-float64(i)) > 0.01 {
			t.Errorf("tone %d comes back as %.3f", i, back)
		}
	}
}

// E sqrt(max(N, 0)) = 2^(-1/4) Gamma(3/4) / sqrt(2 pi): the half-range moment of a normal variable
// (DLMF 5.9.1 with t = x²/2). Far inside, the blur no longer matters.
func TestLimbTable(t *testing.T) {
	table := newLimbTable()
	want := math.Pow(2, -0.25) * math.Gamma(0.75) / math.Sqrt(2*math.Pi)
	if got, _ := table.at(0); math.Abs(got-want) > 1e-4 {
		t.Errorf("at the edge %.6f, want %.6f", got, want)
	}
	if got, slope := table.at(100); math.Abs(got-10) > 1e-3 || math.Abs(slope-0.05) > 1e-4 {
		t.Errorf("deep inside %.6f, slope %.6f", got, slope)
	}
	const pitchError = 4e-3 // the slope is constant within a pitch of the table
	for z := -6.0; z < 12; z += 0.37 {
		a, _ := table.at(z - 0.01)
		b, _ := table.at(z + 0.01)
		if _, slope := table.at(z); math.Abs(slope-(b-a)/0.02) > pitchError {
			t.Errorf("slope %.5f at %.2f, differences give %.5f", slope, z, (b-a)/0.02)
		}
	}
}

// drawnStep samples a blurred step at place with the given blur and noise.
func drawnStep(rng *rand.Rand, place, blur, noise float64) []edgeSample {
	var s []edgeSample
	for d := -2.5; d <= 4.2; d += 0.13 {
		s = append(s, edgeSample{d, phi((place-d)/blur) + noise*rng.NormFloat64(), 1})
	}
	return s
}

func TestFitStepFindsPlaceAndBlur(t *testing.T) {
	table := newLimbTable()
	rng := rand.New(rand.NewPCG(3, 4))
	for _, blur := range []float64{0.6, 0.9, 1.3} {
		for _, place := range []float64{-0.7, -0.31, 0, 0.77} {
			st := table.fitStep(drawnStep(rng, place, blur, 0.002), 1.5, sectionPrior(0.9, 0.5))
			if !st.OK || math.Abs(st.at()-place) > 0.05 || math.Abs(st.blur()-blur) > 0.05 {
				t.Errorf("place %.2f blur %.2f: found %.3f and %.3f", place, blur, st.at(), st.blur())
			}
		}
	}
}

// The claimed standard deviation must be that of the errors, within a third over 300 trials.
func TestFitStepClaimsItsScatter(t *testing.T) {
	table := newLimbTable()
	rng := rand.New(rand.NewPCG(5, 6))
	prior := loosePrior()
	prior.mean[atBlur] = math.Log(0.8)
	var sum, claim float64
	const n = 300
	for range n {
		st := table.fitStep(drawnStep(rng, 0.2, 0.8, 0.03), 1.5, prior)
		sum += (st.at() - 0.2) * (st.at() - 0.2) / n
		claim += st.Sigma * st.Sigma / n
	}
	if ratio := math.Sqrt(sum / claim); ratio < 0.67 || ratio > 1.5 {
		t.Errorf("scatter %.4f px, claimed %.4f", math.Sqrt(sum), math.Sqrt(claim))
	}
}

func TestFitStepRefuses(t *testing.T) {
	table := newLimbTable()
	var flat, falling []edgeSample
	for d := -2.5; d <= 4.2; d += 0.13 {
		flat = append(flat, edgeSample{d, 0.5, 1})
		falling = append(falling, edgeSample{d, phi(d), 1})
	}
	for name, s := range map[string][]edgeSample{"nothing": nil, "no step": flat, "a step the wrong way": falling} {
		if st := table.fitStep(s, 1.5, loosePrior()); st.OK && st.rise() > 0.3 {
			t.Errorf("%s: fitted %+v", name, st)
		}
	}
}

// Light mixes linearly, and each channel is coded by itself: the share must come back from luma.
func TestLumaCurveInverts(t *testing.T) {
	for _, s := range []sides{
		{light: [2][3]float64{{0.16, 0.3, 0.45}, {0.1, 0.04, 0.02}}},
		{light: [2][3]float64{{0.02, 0.05, 0.1}, {0.6, 0.6, 0.55}}},
	} {
		for k := range s.luma {
			for i, w := range lumaWeights {
				s.luma[k] += w * 255 * toTone(s.light[k][i])
			}
		}
		var c lumaCurve
		c.lay(newToneTable(), &s)
		for m := -0.1; m < 1.1; m += 0.07 {
			luma := 0.0
			for i, w := range lumaWeights {
				luma += w * 255 * toTone(s.light[1][i]+m*(s.light[0][i]-s.light[1][i]))
			}
			if got := c.share(luma); math.Abs(got-m) > 0.01 {
				t.Errorf("share %.3f comes back as %.3f", m, got)
			}
		}
	}
}

// A circle walked with the piece to the right has outward normals, curvature 1/R and no corner; a
// square has four.
func TestSurvey(t *testing.T) {
	var circle []r2.Vec
	const radius = 40
	for k := range 250 {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 250)
		circle = append(circle, r2.Vec{X: 100 + radius*c, Y: 100 + radius*s})
	}
	for _, c := range survey(respace(circle)) {
		out := r2.Unit(r2.Sub(c.p, r2.Vec{X: 100, Y: 100}))
		if r2.Dot(out, c.n) < 0.99 || math.Abs(c.bend-1.0/radius) > 0.003 || !math.IsInf(c.corner, 1) {
			t.Fatalf("at %v: normal %v, bend %.4f, corner %v", c.p, c.n, c.bend, c.corner)
		}
	}
	square := []r2.Vec{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}
	corners := 0
	for _, c := range survey(respace(square)) {
		if c.corner == 0 {
			corners++
		}
	}
	if corners != 4 {
		t.Errorf("%d corners on a square", corners)
	}
}

// Edges that are soft in a large picture once stood so far apart that the outline counted as torn.
func TestFittedPointsHangTogether(t *testing.T) {
	for _, c := range []struct {
		n     int
		scale float64
		want  int
	}{{6000, 1, 2}, {8000, 1.6, 3}, {20000, 1, 3}, {20000, 4, 3}} {
		if got := pitch(c.n, c.scale); got != c.want {
			t.Errorf("%d points, softness %.1f: %d apart, want %d", c.n, c.scale, got, c.want)
		}
	}
}
