package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// axisTilt is how far the axis of a measurement leans towards the camera against that of the stage, radians.
func axisTilt(s stage, m Measurement) float64 {
	return math.Asin(m.Scene.Axis.E.Z) - math.Asin(r3.Unit(s.scene.Axis.E).Z)
}

// TestDiametersShowTheTilt: one diameter scales a piece whose axis leans by 3 degrees and leaves the lean open; one at
// either end shows it to less than a third of a degree, and the uncertainties follow.
func TestDiametersShowTheTilt(t *testing.T) {
	s := stageFor(spindle(), 700, 35, 0, r2.Vec{X: 10}, 0, 0, 3*math.Pi/180)
	sight := s.sighting(t, 2, 0.05, rand.New(rand.NewPCG(1, 21)))
	sight.Boards = nil
	one, err := Measure(sight, Hints{Known: []KnownDiameter{{X: 230, D: 44}}})
	if err != nil {
		t.Fatal(err)
	}
	three, err := Measure(sight, Hints{Known: []KnownDiameter{{X: 230, D: 44}, {X: 20, D: 30}, {X: 345, D: 32}}})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := axisTilt(s, one), axisTilt(s, three); math.Abs(b) > 0.3*math.Pi/180 || math.Abs(b) > math.Abs(a)/5 {
		t.Errorf("the axis leans %.3f degrees off by one diameter, %.3f by three", a*180/math.Pi, b*180/math.Pi)
	}
	for i, m := range []Measurement{one, three} {
		for _, at := range []struct{ x, d float64 }{{20, 30}, {230, 44}, {345, 32}} {
			q, _ := m.Trace.At(at.x)
			if off := 2*q.R - at.d; math.Abs(off) > q.U || q.U > [2]float64{1, 0.25}[i] {
				t.Errorf("%d: %+.3f ± %.3f mm at %g", i, off, q.U, at.x)
			}
		}
		if off := m.Trace.Length - s.pattern.Length; math.Abs(off) > m.Trace.ULength {
			t.Errorf("%d: the length is %+.3f ± %.3f mm off", i, off, m.Trace.ULength)
		}
	}
	if three.Trace.ULength > one.Trace.ULength/1.5 {
		t.Errorf("the length is good to %.2f mm by one diameter, %.2f by three", one.Trace.ULength, three.Trace.ULength)
	}
}

// TestLengthShowsTheFocalLength: a photograph taken squarely from 600 mm at a focal length stated 2 % too long puts an axis
// 40 mm above the boards too near them; the piece's length by tape tells how far.
func TestLengthShowsTheFocalLength(t *testing.T) {
	s := stageFor(spindle(), 600, 28, 40, r2.Vec{}, 0, 0, 0)
	sight := s.sighting(t, 2, 0.03, rand.New(rand.NewPCG(1, 22)))
	sight.Focal35 *= 1.02
	h := Hints{Height: Height{Mode: Fixed, Value: 40}}
	without, err := Measure(sight, h)
	if err != nil {
		t.Fatal(err)
	}
	h.Length = s.pattern.Length + 0.1
	with, err := Measure(sight, h)
	if err != nil {
		t.Fatal(err)
	}
	f := s.scene.Camera.F
	a, b := without.Scene.Camera.F/f-1, with.Scene.Camera.F/f-1
	if math.Abs(b) > 0.5*math.Abs(a) {
		t.Errorf("the focal length is off by %.2f %%, with the length known by %.2f %%", 100*a, 100*b)
	}
	for _, m := range []Measurement{without, with} {
		q, _ := m.Trace.At(230)
		if off := 2*q.R - 44; math.Abs(off) > q.U {
			t.Errorf("%+.3f ± %.3f mm", off, q.U)
		}
	}
	p, _ := without.Trace.At(230)
	if q, _ := with.Trace.At(230); math.Abs(q.R-22) > 0.6*math.Abs(p.R-22) || q.U > p.U {
		t.Errorf("44 mm reads %.3f ± %.3f, with the length known %.3f ± %.3f", 2*p.R, p.U, 2*q.R, q.U)
	}
}
