package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestKnownSizeFarFromGuess: the uncertainties do not depend on how near the scale's first guess, read off the outline
// without perspective, was to the scale that the reading gives.
func TestKnownSizeFarFromGuess(t *testing.T) {
	s := stageFor(spindle(), 700, 35, 0, r2.Vec{X: 10}, 0.05, 0, 0)
	sight := s.sighting(t, 2, 0.05, rand.New(rand.NewPCG(1, 11)))
	sight.Boards = nil
	g, err := gauge(sight, Hints{Known: []KnownDiameter{{X: 280, D: 30.4856}}})
	if err != nil {
		t.Fatal(err)
	}
	guess := g.ref
	for _, k := range []float64{1, 0.8, 1.26} {
		g.ref = guess.Scaled(k)
		m, err := g.measure(newSilhouette(sight.Outline))
		if err != nil {
			t.Fatal(err)
		}
		q, _ := m.Trace.At(230)
		if math.Abs(2*q.R-44) > q.U || q.U > 0.6 {
			t.Errorf("guess off by %g: %.3f ± %.3f mm for 44", k, 2*q.R, q.U)
		}
	}
}
