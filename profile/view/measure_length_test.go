package view

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestLengthUncertaintyIsHonest photographs a piece again and again with everything off by what is assumed of it: the size
// of the printed squares, the height of the boards, the stated focal length, corners and edges. The stated uncertainty
// (k = 2) holds the true length in about 95 % of cases (GUM 6.2), and is no larger than that takes: of normal errors the
// median is 0.6745 standard deviations, a third of it.
func TestLengthUncertaintyIsHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 5))
	var off, u []float64
	within := 0
	const photos = 30
	for range photos {
		s := stageFor(taperPiece(), 1100+400*rng.Float64(), 40, raisedSigma*rng.NormFloat64(), r2.Vec{X: 30 * rng.NormFloat64(), Y: 20 * rng.NormFloat64()},
			0.05*rng.NormFloat64(), 0.04*rng.NormFloat64(), 0.04*rng.NormFloat64())
		sight := s.sighting(t, 3, 0.1, rng)
		sight.Focal35 *= 1 + 0.01*rng.NormFloat64()
		printed := 1 + boardScaleSigma*rng.NormFloat64()
		for i := range sight.Boards {
			sight.Boards[i].Square /= printed
		}
		m, err := Measure(sight, Hints{Height: Height{Mode: Raised}})
		if err != nil {
			t.Fatal(err)
		}
		e := math.Abs(m.Trace.Length - s.pattern.Length)
		off, u = append(off, e), append(u, m.Trace.ULength)
		if e <= m.Trace.ULength {
			within++
		}
	}
	slices.Sort(off)
	slices.Sort(u)
	ratio := u[photos/2] / off[photos/2]
	t.Logf("%d of %d within, median error %.3f, median uncertainty %.3f mm", within, photos, off[photos/2], u[photos/2])
	if within < photos*9/10 {
		t.Errorf("%d of %d lengths lie within their uncertainty", within, photos)
	}
	// The median of 30 errors scatters by a fifth.
	if ratio > 4.5 {
		t.Errorf("the median uncertainty is %.1f times the median error", ratio)
	}
}

// TestStatedSquareIsBelieved: a size of the squares that the user measured makes the length surer.
func TestStatedSquareIsBelieved(t *testing.T) {
	s := stageFor(taperPiece(), 1300, 40, 0, r2.Vec{}, 0, 0, 0)
	sight := s.sighting(t, 3, 0.05, rand.New(rand.NewPCG(1, 5)))
	var u [2]float64
	for k, square := range []float64{0, 10} {
		m, err := Measure(sight, Hints{Square: square, Height: Height{Mode: Raised}})
		if err != nil {
			t.Fatal(err)
		}
		u[k] = m.Trace.ULength
	}
	want := 2 * s.pattern.Length * math.Sqrt(boardScaleSigma*boardScaleSigma-statedScale*statedScale)
	near(t, "gain", math.Sqrt(u[0]*u[0]-u[1]*u[1]), want, 0.05*want)
}
