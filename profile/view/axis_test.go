package view

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

func smoothSides(c Camera, o Outline) (s [2]seenSide) {
	for i := range s {
		s[i] = smooth(o.Sides[i]).through(c)
	}
	return s
}

// TestMirrorPlane: the plane of symmetry holds the camera and the axis; rough ends that miss by 15 pixels, a chip, and
// squares that are rolled over a third of the length do not move it.
func TestMirrorPlane(t *testing.T) {
	rolled := newel()
	rolled.Elements[0].Roll = 0.02
	rolled.Elements[6].Roll = 0.02
	for name, pat := range map[string]profile.Pattern{"spindle": spindle(), "rolled squares": rolled} {
		s := stageFor(pat, 900, 40, 15, r2.Vec{X: 20, Y: 40}, 0.15, 0.05, 0.03)
		o := s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(1, 9))).Outline
		for i := 500; i < 560; i++ {
			o.Sides[1][i].P = r2.Add(o.Sides[1][i].P, r2.Scale(-5, o.Sides[1][i].N))
		}
		rough := [2]r2.Vec{r2.Add(o.Axis[0], r2.Vec{X: 3, Y: 15}), r2.Add(o.Axis[1], r2.Vec{X: -4, Y: -15})}
		m, err := mirrorPlane(s.scene.Camera, rough, false, smoothSides(s.scene.Camera, o))
		if err != nil {
			t.Fatal(err)
		}
		p := projector(t, s.scene)
		if angle := math.Acos(math.Min(1, r3.Dot(m.y, p.y))); angle > 1e-5 {
			t.Errorf("%s: the plane is %.2e rad off", name, angle)
		}
	}
}

func TestMirrorPlaneRefuses(t *testing.T) {
	c := NewCamera(4000, 3000, 50)
	axis := [2]r2.Vec{{X: 100, Y: 1500}, {X: 3900, Y: 1500}}
	for name, sides := range map[string][2]seenSide{"no points": {}, "one side": {exact([]EdgePoint{{P: r2.Vec{X: 200, Y: 1400}}, {P: r2.Vec{X: 300, Y: 1400}}}).through(c), {}}} {
		if _, err := mirrorPlane(c, axis, false, sides); !errors.Is(err, ErrSides) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := mirrorPlane(c, [2]r2.Vec{{X: 100, Y: 100}, {X: 100, Y: 100}}, false, [2]seenSide{}); !errors.Is(err, ErrSides) {
		t.Errorf("one point as an axis: %v", err)
	}
}
