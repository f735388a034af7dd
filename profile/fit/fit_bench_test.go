package fit

import (
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// longTrace is a turning sampled to about two thousand points.
func longTrace(b *testing.B) profile.Trace {
	b.Helper()
	for seed := uint64(0); ; seed++ {
		rng := rand.New(rand.NewPCG(seed, 1919))
		p := plausible(rng)
		if p.Length > 400 && p.Length < 480 {
			return traced(p, 0.25, 0.03, rng)
		}
	}
}

func BenchmarkTrace(b *testing.B) {
	t := longTrace(b)
	b.ReportMetric(float64(len(t.Samples)), "samples")
	for b.Loop() {
		if _, err := Trace(t, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCut(b *testing.B) {
	pts := points(longTrace(b))
	sigma := noise(pts, leastNoise)
	for b.Loop() {
		cut(pts, sigma, eye{})
	}
}

func BenchmarkRefine(b *testing.B) {
	t := longTrace(b)
	pts := points(t)
	sigma := noise(pts, leastNoise)
	c := build(pts, cut(pts, sigma, eye{}), t.Length, sigma)
	tgt := newTarget(pts, &c, sigma)
	for b.Loop() {
		if _, err := tgt.refine(c, noTies(&c), roughIterations); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThroughCamera(b *testing.B) {
	scene := benchScenes(b)[0]
	m, err := view.Measure(scene.sighted(0.05, rand.New(rand.NewPCG(1, 2))), scene.hints())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Fit(m, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
