package view

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"spindlestick/profile"
)

// TestWanderingEdgesAreTold: edges that light or grain moves by a third of a pixel over 40 mm, each by itself, look as sharp
// point by point as ones that it does not; the two sides show it, and the diameters say so.
func TestWanderingEdgesAreTold(t *testing.T) {
	s := plain(spindle())
	u := map[float64]float64{}
	for _, amplitude := range []float64{0, 0.35} {
		sight := s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(1, 31)))
		for side, pts := range sight.Outline.Sides {
			for i, q := range pts {
				phase := 2*math.Pi*q.P.X/(270+60*float64(side)) + float64(side)
				pts[i].P.Y += amplitude * math.Sin(phase)
			}
		}
		m, err := Measure(sight, Hints{Height: Height{Mode: Raised}})
		if err != nil {
			t.Fatal(err)
		}
		errs, within := compared(t, s.pattern, m.Trace)
		if share := float64(within) / float64(len(errs)); share < 0.9 {
			t.Errorf("edges moved by %.2f px: %.1f %% of the diameters lie within their uncertainty", amplitude, 100*share)
		}
		var all []float64
		for _, q := range m.Trace.Samples {
			if q.State == profile.Visible {
				all = append(all, q.U)
			}
		}
		_, rms, _ := figures(errs)
		t.Logf("%.2f px: rms %.3f mm", amplitude, rms)
		sort.Float64s(all)
		u[amplitude] = all[len(all)/2]
		t.Logf("median U %.3f", u[amplitude])
	}
	if !(u[0.35] > 2*u[0]) {
		t.Errorf("the median uncertainty is %.3f mm, with wandering edges %.3f", u[0], u[0.35])
	}
}
