package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// complete adds the scene's reference to its sighting, with noise, and says what the user would.
func (b benchPiece) complete(noise float64, rng *rand.Rand) (Sighting, Hints) {
	s, h := b.sighted(noise, rng), Hints{Height: b.height()}
	switch b.Reference.Kind {
	case "boards":
		s.Boards = b.boards(rng)
	case "rule":
		s.Rule = &Rule{Sigma: noise}
		for _, m := range b.benchScene.Reference.Marks {
			s.Rule.T = append(s.Rule.T, m.MM)
			s.Rule.P = append(s.Rule.P, r2.Vec{X: m.Px[0] + noise*rng.NormFloat64(), Y: m.Px[1] + noise*rng.NormFloat64()})
		}
	case "caliper":
		h.Known = []KnownDiameter{{X: b.benchScene.Reference.Station, D: b.benchScene.Reference.Diameter}}
	}
	return s, h
}

// TestProjectBench compares computed outlines with the exact ones of the bench photographs, point by point along the
// normal. The truth's meridian is a polyline with a corner every 0.25 mm, which is what the worst points show.
func TestProjectBench(t *testing.T) {
	for _, b := range benchPieces(t) {
		p := projector(t, b.scene())
		l := b.look(p, b.scene().FlatRoll())
		for side, pts := range b.sighted(0, rand.New(rand.NewPCG(1, 1))).Outline.Sides {
			var off []float64
			near := 0
			for _, q := range p.Seen(side, pts) {
				off = append(off, l.Miss(q))
				if math.Abs(off[len(off)-1]) < 0.02 {
					near++
				}
			}
			_, rms, worst := figures(off)
			share := float64(near) / float64(len(off))
			t.Logf("%s side %d: rms %.4f px, worst %.3f, within 0.02 px %.1f %%", b.ID, side, rms, worst, 100*share)
			if rms > 0.02 || worst > 0.3 || share < 0.9 {
				t.Errorf("%s side %d: the projection misses the exact outline by %.4f px rms, %.3f at worst", b.ID, side, rms, worst)
			}
		}
	}
}

// TestMeasureBenchTrueCamera measures exact outlines with 0.05 px of noise by the true camera and plane.
func TestMeasureBenchTrueCamera(t *testing.T) {
	for _, b := range benchPieces(t) {
		s := b.scene()
		g := gauged{ref: Reference{Camera: s.Camera, Plane: s.Plane}, height: b.height(), sheet: b.sheet()}
		m, err := g.measure(newSilhouette(b.sighted(0.05, rand.New(rand.NewPCG(1, 2))).Outline))
		if err != nil {
			t.Errorf("%s: %v", b.ID, err)
			continue
		}
		bias, rms, worst := figures(b.scored(m.Trace))
		start := m.Scene.Plane.ToPlane(m.Scene.Axis.P)
		t.Logf("%s diameters: bias %+.4f rms %.4f worst %.3f mm; length %+.3f, start %+.3f, height %+.3f mm",
			b.ID, bias, rms, worst, m.Trace.Length-b.Length, start.X, start.Z+b.Reference.PlaneZ)
		if rms > 0.02 || math.Abs(bias) > 0.005 {
			t.Errorf("%s: diameters are off by %.4f mm rms, %.4f on average", b.ID, rms, bias)
		}
		if math.Abs(start.X) > 0.05 || math.Abs(start.Z+b.Reference.PlaneZ) > 0.02 {
			t.Errorf("%s: the axis starts %.3f mm off, %.3f mm too high", b.ID, start.X, start.Z+b.Reference.PlaneZ)
		}
	}
}

// TestMeasureBench measures exact outlines with 0.05 px of noise by the scale that each photograph shows, with noise
// on it too. Most diameters lie within the uncertainty that they state (k = 2).
func TestMeasureBench(t *testing.T) {
	for _, b := range benchPieces(t) {
		s, h := b.complete(0.05, rand.New(rand.NewPCG(3, 4)))
		m, err := Measure(s, h)
		if err != nil {
			t.Errorf("%s: %v", b.ID, err)
			continue
		}
		errs := b.scored(m.Trace)
		bias, rms, worst := figures(errs)
		covered, mean := b.covered(m.Trace)
		t.Logf("%s diameters: bias %+.4f rms %.4f worst %.3f, U %.3f covers %.1f %%; length %+.3f ± %.3f mm",
			b.ID, bias, rms, worst, mean, 100*covered, m.Trace.Length-b.Length, m.Trace.ULength)
		if rms > 0.08 || covered < 0.9 {
			t.Errorf("%s: diameters are off by %.4f mm rms, %.1f %% within their uncertainty", b.ID, rms, 100*covered)
		}
		if math.Abs(m.Trace.Length-b.Length) > m.Trace.ULength {
			t.Errorf("%s: the length is %.3f mm off, stated to ±%.3f mm", b.ID, m.Trace.Length-b.Length, m.Trace.ULength)
		}
	}
}

// TestHiddenBench compares the stretches marked hidden with those that the bench knows to be hidden on both sides.
func TestHiddenBench(t *testing.T) {
	var hidden, found, claimed, wrong int
	for _, b := range benchPieces(t) {
		s := b.scene()
		g := gauged{ref: Reference{Camera: s.Camera, Plane: s.Plane}, height: b.height(), sheet: b.sheet()}
		m, err := g.measure(newSilhouette(b.sighted(0.05, rand.New(rand.NewPCG(1, 2))).Outline))
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range m.Trace.Samples {
			both, either := b.hidden(q.X)
			if both {
				hidden++
			}
			if q.State == profile.Hidden {
				claimed++
				if both {
					found++
				}
				if !either {
					wrong++
				}
			}
		}
	}
	t.Logf("of %d hidden samples %d are marked; of %d marked %d are not hidden", hidden, found, claimed, wrong)
	if found < hidden*6/10 || wrong > claimed/10 {
		t.Errorf("of %d hidden samples %d are marked; of %d marked %d are not hidden", hidden, found, claimed, wrong)
	}
}
