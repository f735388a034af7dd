package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// exact is an outline taken as it is, without smoothing.
func exact(pts []EdgePoint) smoothed {
	var s smoothed
	for i, e := range pts {
		s.at = append(s.at, e.P)
		s.sigma = append(s.sigma, e.Sigma)
		s.gap = append(s.gap, i == 0)
	}
	return s
}

// TestInvertRoundTrip: what the camera sees of a piece gives the piece back to a millionth of a millimetre wherever
// it shows, in any pose.
func TestInvertRoundTrip(t *testing.T) {
	cases := map[string]struct {
		stage stage
		from  [][2]float64 // stretches that show
	}{
		"handbook taper": {stageFor(taperPiece(), 1500, 40, 12, r2.Vec{X: 40, Y: 25}, 0.2, 0.06, -0.05), [][2]float64{{1, 659}}},
		"spindle":        {stageFor(spindle(), 1200, 50, 20, r2.Vec{X: 10, Y: -30}, -0.4, 0.02, 0.03), [][2]float64{{1, 149}, {155, 168}, {215, 245}, {310, 380}}},
		"wide lens":      {stageFor(spindle(), 450, 24, 20, r2.Vec{X: 30, Y: 60}, 0.1, 0, 0), [][2]float64{{1, 140}, {156, 165}, {310, 375}}},
	}
	for name, c := range cases {
		p := projector(t, c.stage.scene)
		l := p.Look(c.stage.pattern)
		for side := range 2 {
			pts := noisy(c.stage.contour(p, l, side, 0.02), side, 0, nil)
			con := newContour(p, exact(pts).through(p.Camera), side)
			for _, span := range c.from {
				for x := span[0]; x <= span[1]; x += 1.37 {
					d, _ := c.stage.pattern.DiameterAt(x)
					got, ok := con.nearest(x)
					if !ok || math.Abs(got.r-d/2) > 1e-6 {
						t.Fatalf("%s, side %d: %.3f mm reads %.8f, is %.8f", name, side, x, got.r, d/2)
					}
				}
			}
		}
	}
}

// TestInvertNeverInside: the rays only bound the piece, so that nowhere, hidden or not, less than the piece comes back.
func TestInvertNeverInside(t *testing.T) {
	s := stageFor(spindle(), 450, 24, 20, r2.Vec{X: 30, Y: 60}, 0.1, 0, 0)
	p := projector(t, s.scene)
	con := newContour(p, exact(noisy(s.contour(p, p.Look(s.pattern), 1, 0.1), 1, 0, nil)).through(p.Camera), 1)
	for x := 0.5; x < 400; x += 0.43 {
		d, _ := s.pattern.DiameterAt(x)
		if got, ok := con.nearest(x); !ok || got.r < d/2-5e-4 { // chords between points 0.1 px apart
			t.Errorf("%.2f mm reads %.5f, is %.5f", x, got.r, d/2)
		}
	}
}

// TestSmooth: noise on long runs goes down to less than half, corners stay where they are.
func TestSmooth(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	var pts []EdgePoint
	var truth []r2.Vec
	add := func(q r2.Vec, n r2.Vec) {
		truth = append(truth, q)
		pts = append(pts, EdgePoint{P: r2.Add(q, r2.Scale(0.05*rng.NormFloat64(), n)), N: n, Sigma: 0.05})
	}
	for x := 0.0; x < 100; x++ {
		add(r2.Vec{X: x, Y: 50}, r2.Vec{Y: -1})
	}
	for y := 50.0; y > 20; y-- {
		add(r2.Vec{X: 100, Y: y}, r2.Vec{X: -1})
	}
	for x := 100.0; x < 200; x++ {
		add(r2.Vec{X: x, Y: 20}, r2.Vec{Y: -1})
	}
	s := smooth(pts)
	var run, worst float64
	n := 0
	for i, q := range s.at {
		d := math.Abs(r2.Dot(r2.Sub(q, truth[i]), pts[i].N))
		worst = math.Max(worst, d)
		if truth[i].X > 5 && truth[i].X < 90 {
			run += d * d
			n++
		}
	}
	if rms := math.Sqrt(run / float64(n)); rms > 0.025 {
		t.Errorf("long runs scatter by %.4f px after smoothing 0.05", rms)
	}
	if worst > 0.25 {
		t.Errorf("a corner moved by %.3f px", worst)
	}
}

func TestSmoothKeepsGaps(t *testing.T) {
	var pts []EdgePoint
	for x := range 60 {
		e := EdgePoint{P: r2.Vec{X: float64(x), Y: 10}, N: r2.Vec{Y: -1}, Sigma: 0.05}
		if x >= 20 && x < 30 {
			e.State = profile.Hidden
		}
		pts = append(pts, e)
	}
	s := smooth(pts)
	if len(s.at) != 50 || !s.gap[20] || s.gap[19] || s.gap[21] {
		t.Errorf("%d points, gaps %v", len(s.at), s.gap)
	}
}

// TestInvertBias: the least of many noisy rays is low; smoothing first keeps that under a hundredth of a millimetre of
// diameter at 0.05 and 0.1 px.
func TestInvertBias(t *testing.T) {
	s := stageFor(spindle(), 900, 45, 0, r2.Vec{X: 20}, 0.05, 0, 0)
	for _, noise := range []float64{0.05, 0.1} {
		var sum, squares float64
		n := 0
		for seed := range uint64(4) {
			m, err := gauged{ref: s.truth(), height: Height{Mode: Raised}}.measure(newSilhouette(s.sighting(t, 1, noise, rand.New(rand.NewPCG(seed, 1))).Outline))
			if err != nil {
				t.Fatal(err)
			}
			for x := 2.0; x < 375; x += 0.5 {
				if x > 148 && x < 310 {
					continue // hidden stretches and corners
				}
				d, _ := s.pattern.DiameterAt(x)
				got, _ := m.Trace.At(x)
				sum += 2*got.R - d
				squares += (2*got.R - d) * (2*got.R - d)
				n++
			}
		}
		if bias := sum / float64(n); math.Abs(bias) > 0.01 {
			t.Errorf("bias %.4f mm at %.2f px", bias, noise)
		}
		if rms := math.Sqrt(squares / float64(n)); rms > 0.3*noise {
			t.Errorf("rms %.4f mm at %.2f px", rms, noise)
		}
	}
}

// TestTraceMarksHidden: behind a tall fillet, far from the middle of a wide picture, the thin part is hidden for
// |x| sqrt(R² - r²) / d, and what shows is visible.
func TestTraceMarksHidden(t *testing.T) {
	pat := profile.Pattern{Length: 400, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 80, D0: 24, D1: 24},
		{Kind: profile.Fillet, X0: 80, X1: 90, D0: 60, D1: 60},
		{Kind: profile.Cylinder, X0: 90, X1: 400, D0: 24, D1: 24},
	}}
	s := stageFor(pat, 500, 26, 0, r2.Vec{}, 0, 0, 0)
	m, err := gauged{ref: s.truth(), height: Height{Mode: Raised}}.measure(newSilhouette(s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(2, 2))).Outline))
	if err != nil {
		t.Fatal(err)
	}
	reach := 120 * math.Sqrt(30*30-12*12) / 500
	wrong := 0
	for _, q := range m.Trace.Samples {
		want := q.X > 80-reach && q.X < 80
		// On the inner side the near half of the rim hides a little less than the far half on the outer side.
		other := q.X > 90 && q.X < 90+1.2*reach
		edge := math.Abs(q.X-80) < 1 || math.Abs(q.X-80+reach) < 1 || math.Abs(q.X-90) < 1 || q.X < 1 || other
		if !edge && (q.State == profile.Hidden) != want {
			wrong++
		}
	}
	if wrong > 2 {
		t.Errorf("%d samples are marked wrongly", wrong)
	}
}

// TestTraceDoublesSteps: a square step below the camera, where nothing smears it, comes as two samples at its station.
func TestTraceDoublesSteps(t *testing.T) {
	pat := profile.Pattern{Length: 200, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 100.1, D0: 24, D1: 24},
		{Kind: profile.Cylinder, X0: 100.1, X1: 200, D0: 30, D1: 30},
	}}
	s := plain(pat)
	m, err := gauged{ref: s.truth(), height: Height{Mode: Raised}}.measure(newSilhouette(s.sighting(t, 1, 0.03, rand.New(rand.NewPCG(2, 2))).Outline))
	if err != nil {
		t.Fatal(err)
	}
	var at []float64
	for i, q := range m.Trace.Samples {
		if i > 0 && q.X == m.Trace.Samples[i-1].X {
			at = append(at, q.X)
			near(t, "before", m.Trace.Samples[i-1].R, 12, 0.05)
			near(t, "after", q.R, 15, 0.05)
		}
	}
	if len(at) != 1 {
		t.Fatalf("steps at %v", at)
	}
	near(t, "the step's station", at[0], 100.1, 0.05)
}

// TestChipTakesAway: a chip on one side leaves the diameter to the other and is marked.
func TestChipTakesAway(t *testing.T) {
	s := plain(spindle())
	sight := s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(3, 3)))
	p := projector(t, s.scene)
	for i, e := range sight.Outline.Sides[0] {
		u, _ := p.ToAxis(e.P)
		if x := p.Station(u); x > 220 && x < 226 {
			sight.Outline.Sides[0][i].P = r2.Add(e.P, r2.Scale(-6, e.N))
		}
	}
	m, err := gauged{ref: s.truth(), height: Height{Mode: Raised}}.measure(newSilhouette(sight.Outline))
	if err != nil {
		t.Fatal(err)
	}
	q, _ := m.Trace.At(223)
	near(t, "radius at the chip", q.R, 22, 0.05)
	if q.State != profile.Damaged {
		t.Errorf("the chip is %q", q.State)
	}
	if q, _ := m.Trace.At(235); q.State != profile.Visible {
		t.Errorf("beside the chip is %q", q.State)
	}
}
