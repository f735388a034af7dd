package view

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

func BenchmarkLook(b *testing.B) {
	s := plain(newel())
	p := projector(b, s.scene)
	b.ReportAllocs()
	for b.Loop() {
		p.Look(s.pattern)
	}
}

// BenchmarkMiss compares one side's points with the outline.
func BenchmarkMiss(b *testing.B) {
	s := plain(newel())
	p := projector(b, s.scene)
	l := p.Look(s.pattern)
	pts := p.Seen(0, s.sighting(b, 1, 0.05, rand.New(rand.NewPCG(1, 1))).Outline.Sides[0])
	b.ReportAllocs()
	for b.Loop() {
		for _, q := range pts {
			l.Miss(q)
		}
	}
	b.ReportMetric(float64(len(pts)), "points/op")
}

func BenchmarkMeasure(b *testing.B) {
	s := stageFor(newel(), 800, 35, 22-paper, r2.Vec{X: 20}, 0, 0.02, 0.01)
	sight := s.sighting(b, 1, 0.05, rand.New(rand.NewPCG(1, 1)))
	for b.Loop() {
		if _, err := Measure(sight, Hints{Height: Height{Mode: Level}}); err != nil {
			b.Fatal(err)
		}
	}
}
