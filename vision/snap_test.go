package vision

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/assets"
	"spindlestick/profile/view"
)

// demoSighting is the demonstration photograph as a picture and what is seen in it.
func demoSighting(t testing.TB) (*Photo, view.Sighting) {
	t.Helper()
	s, err := (Tracer{}).Sight(context.Background(), assets.Demo, "demo.jpg", view.Hints{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Decode(assets.Demo, "demo.jpg")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	return p, s
}

// byHand is a side of an outline as a hand draws it: every few pixels a point, some pixels off.
func byHand(side []view.EdgePoint, from, to int, rng *rand.Rand) []r2.Vec {
	var out []r2.Vec
	for i := from; i < to; i += 14 {
		out = append(out, r2.Add(side[i].P, r2.Scale(4*(2*rng.Float64()-1), side[i].N)))
	}
	return out
}

// A line drawn within four pixels of the edge ends up on the edge that the whole outline found.
func TestSnapFindsTheEdgeNearALine(t *testing.T) {
	p, s := demoSighting(t)
	img := p.Image()
	rng := rand.New(rand.NewPCG(5, 5))
	for k, side := range s.Outline.Sides {
		n := len(side)
		for _, part := range [][2]int{{n / 10, n/10 + 300}, {n / 2, n/2 + 500}, {n * 8 / 10, n*8/10 + 200}} {
			line := byHand(side, part[0], part[1], rng)
			mid := s.Outline.Axis[0]
			mid = r2.Add(mid, r2.Scale(float64(part[0]+part[1])/2/float64(n), r2.Sub(s.Outline.Axis[1], mid)))
			got, err := (Tracer{}).Snap(img, line, mid)
			if err != nil {
				t.Fatal(err)
			}
			var off []float64
			axis := r2.Unit(r2.Sub(s.Outline.Axis[1], s.Outline.Axis[0]))
			for _, e := range got {
				if math.Abs(r2.Dot(e.N, axis)) > 0.6 {
					continue // a hand that cuts the corner of a step does not say where its wall stands
				}
				best := math.Inf(1)
				for _, q := range side[max(0, part[0]-30):min(n, part[1]+30)] {
					if d := r2.Sub(e.P, q.P); math.Abs(r2.Dot(d, r2.Vec{X: q.N.Y, Y: -q.N.X})) < 1.5 {
						best = math.Min(best, math.Abs(r2.Dot(d, q.N)))
					}
				}
				off = append(off, best)
			}
			sort.Float64s(off)
			if share := float64(len(got)) / float64(part[1]-part[0]); share < 0.4 {
				t.Errorf("side %d from %d: %d points on a line of %d", k, part[0], len(got), part[1]-part[0])
			}
			// What points claim at best is 0.08 px (edgeSigma); both lines carry it.
			if m, p90 := off[len(off)/2], off[len(off)*9/10]; m > math.Sqrt2*edgeSigma || p90 > 0.3 {
				t.Errorf("side %d from %d: half of the points lie within %.3f px of the outline, nine in ten within %.3f", k, part[0], m, p90)
			}
		}
	}
}

func TestSnapRefusesWhatIsNoLine(t *testing.T) {
	img := turning().photo(t).Image()
	nan := math.NaN()
	for name, line := range map[string][]r2.Vec{
		"nothing":     nil,
		"a dot":       {{X: 100, Y: 100}, {X: 101, Y: 100}},
		"no number":   {{X: 100, Y: 100}, {X: nan, Y: 100}},
		"outside":     {{X: -500, Y: -500}, {X: -400, Y: -500}},
		"far too far": {{X: 0, Y: 0}, {X: 1e9, Y: 0}},
		"plain":       {{X: 30, Y: 20}, {X: 90, Y: 20}},
	} {
		if got, err := (Tracer{}).Snap(img, line, r2.Vec{X: 380, Y: 150}); !errors.Is(err, ErrSnap) {
			t.Errorf("%s: %d points, error %v", name, len(got), err)
		}
	}
}

// BenchmarkSnap draws along 1000 px of an edge.
func BenchmarkSnap(b *testing.B) {
	p, s := demoSighting(b)
	img := p.Image()
	side := s.Outline.Sides[0]
	line := byHand(side, 500, 1500, rand.New(rand.NewPCG(1, 1)))
	mid := r2.Scale(0.5, r2.Add(s.Outline.Axis[0], s.Outline.Axis[1]))
	for b.Loop() {
		if _, err := (Tracer{}).Snap(img, line, mid); err != nil {
			b.Fatal(err)
		}
	}
}
