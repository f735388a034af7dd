package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

// boardReference is a reference with every parameter uncertain and correlated.
func boardReference(t *testing.T) Reference {
	t.Helper()
	s := photograph(NewCamera(3000, 2000, 28), facing(600, 0.1, -0.2, 0.3), []laid{{}, {100, -60, 1}}, cornerNoise, rand.New(rand.NewPCG(21, 22)))
	return s.adjust(t, ChooseFocal(28, 0))
}

// The variants' spread is the covariance again: of every parameter, and of every pair.
func TestVariantsCarryTheCovariance(t *testing.T) {
	ref := boardReference(t)
	vs := ref.Variants()
	if len(vs) == 0 || len(vs) > nCommon {
		t.Fatalf("%d variants", len(vs))
	}
	for i := range nCommon {
		for j := range nCommon {
			sum := 0.0
			for _, v := range vs {
				d := shot{camera: v.Camera, plane: v.Plane}.offset(ref)
				sum += d[i] * d[j]
			}
			// Rotations of half a degree are vectors to one part in ten thousand.
			if d := math.Sqrt(ref.Cov[i][i] * ref.Cov[j][j]); math.Abs(sum-ref.Cov[i][j]) > 1e-3*d {
				t.Errorf("covariance of %d and %d is %g, the variants have %g", i, j, ref.Cov[i][j], sum)
			}
		}
	}
}

// Scaling changes no pixel and no angle, multiplies distances, and the uncertainty goes with them.
func TestReferenceScaled(t *testing.T) {
	ref := boardReference(t)
	big := ref.Scaled(3)
	p := r2.Vec{X: 700, Y: 900}
	a, _ := ref.Plane.Meet(ref.Camera.Ray(p), 5)
	b, _ := big.Plane.Meet(big.Camera.Ray(p), 15)
	if apart3(r3.Scale(3, a), b) > 1e-9 {
		t.Errorf("%v becomes %v", a, b)
	}
	depth := func(r Reference) float64 { return r.Plane.T.Z }
	tilt := func(r Reference) float64 { return r.Plane.Normal().X }
	if x, y := math.Sqrt(ref.variance(depth)), math.Sqrt(big.variance(depth)); math.Abs(y/x-3) > 1e-6 {
		t.Errorf("the distance's standard deviation goes from %g to %g", x, y)
	}
	if x, y := ref.variance(tilt), big.variance(tilt); math.Abs(y/x-1) > 1e-6 {
		t.Errorf("the tilt's variance goes from %g to %g", x, y)
	}
}

// A scene scaled by any factor shows the same picture of anything scaled with it.
func TestSceneScaled(t *testing.T) {
	s := Scene{Camera: NewCamera(3000, 2000, 28), Plane: facing(600, 0.1, 0.2, 0), Axis: Line{P: r3.Vec{X: -100, Y: 20, Z: 580}, E: r3.Unit(r3.Vec{X: 1, Z: 0.1})}}
	k := s.Scaled(0.5)
	at := func(s Scene, x float64) r2.Vec {
		p, _ := s.Camera.Project(r3.Add(s.Axis.P, r3.Scale(x, s.Axis.E)))
		return p
	}
	if apart2(at(s, 150), at(k, 75)) > 1e-9 {
		t.Errorf("station 150 is seen at %v, station 75 of the half at %v", at(s, 150), at(k, 75))
	}
	if d := apart3(k.Plane.Eye(), r3.Scale(0.5, s.Plane.Eye())); d > 1e-9 {
		t.Errorf("the camera is %g mm from half its distance", d)
	}
}

func TestScaleTrace(t *testing.T) {
	in := profile.Trace{Length: 100, ULength: 0.2, Samples: []profile.Sample{{X: 10, R: 5, U: 0.1, State: profile.Visible, Sides: [2]float64{4, 6}}}}
	got := ScaleTrace(in, 2)
	want := profile.Sample{X: 20, R: 10, U: 0.2, State: profile.Visible, Sides: [2]float64{8, 12}}
	if got.Length != 200 || got.ULength != 0.4 || got.Samples[0] != want || in.Samples[0].X != 10 {
		t.Errorf("%+v from %+v", got, in)
	}
}
