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

func place(t *testing.T, s stage, h Height, noise float64) placed {
	t.Helper()
	at, err := newSilhouette(s.sighting(t, 1, noise, rand.New(rand.NewPCG(4, 5))).Outline).place(s.truth(), h)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// axisError is how far the found axis is off at its two ends, mm.
func axisError(s stage, at placed) float64 {
	worst := 0.0
	for _, x := range []float64{0, s.pattern.Length} {
		want := r3.Add(s.scene.Axis.P, r3.Scale(x, s.scene.Axis.E))
		worst = math.Max(worst, r3.Norm(r3.Sub(at.point(x), want)))
	}
	return worst
}

// TestHeights: every way to lie puts the axis where it is.
func TestHeights(t *testing.T) {
	shift := r2.Vec{X: 15, Y: 30}
	for _, c := range []struct {
		name   string
		stage  stage
		height Height
	}{
		{"raised", stageFor(spindle(), 900, 45, 0, shift, 0.1, 0.05, 0.04), Height{Mode: Raised}},
		{"fixed", stageFor(spindle(), 900, 45, 22, shift, 0.1, 0.05, 0.04), Height{Mode: Fixed, Value: 22}},
		{"level on the bead", stageFor(spindle(), 900, 45, 26, shift, 0.1, 0.05, 0.04), Height{Mode: Level}},
		{"level on squares", stageFor(newel(), 900, 45, 22, shift, 0.1, 0.05, 0.04), Height{Mode: Level}},
	} {
		at := place(t, c.stage, c.height, 0.03)
		if e := axisError(c.stage, at); e > 0.1 {
			t.Errorf("%s: the axis is %.3f mm off", c.name, e)
		}
		near(t, c.name+": length", at.ends[1].x, c.stage.pattern.Length, 0.05)
	}
}

// lying is a stage whose axis stands over the plane at height a at x = 0 and b at the far end.
func lying(p profile.Pattern, a, b float64) stage {
	s := stageFor(p, 1100, 45, a, r2.Vec{X: 5, Y: 20}, 0.05, 0.02, 0.03)
	tilt := math.Asin((b - a) / p.Length)
	n := s.scene.Plane.Normal()
	e := s.scene.Axis.E
	s.scene.Axis.E = r3.Add(r3.Scale(math.Cos(tilt), e), r3.Scale(math.Sin(tilt), n))
	return s
}

// TestLiesOnACone: a cone lies on its whole length, so that its axis tilts by its half angle: 1.239 degrees for the
// worked taper of 1 7/8 to 3/4 in over 26 in.
func TestLiesOnACone(t *testing.T) {
	half := 1.239 * math.Pi / 180
	s := lying(taperPiece(), 1.875*inch/2*math.Cos(half), 0.75*inch/2*math.Cos(half))
	at := place(t, s, Height{Mode: Lies}, 0.02)
	tilt := math.Asin(r3.Dot(s.scene.Plane.Normal(), r3.Unit(r3.Sub(at.point(0), at.point(s.pattern.Length)))))
	near(t, "tilt in degrees", tilt*180/math.Pi, 1.239, 0.01)
	if e := axisError(s, at); e > 0.1 {
		t.Errorf("the axis is %.3f mm off", e)
	}
}

// TestLiesOnTwoRings: a piece on two unequal rings on either side of its middle rests on them; a third, lower one in
// the middle does not matter.
func TestLiesOnTwoRings(t *testing.T) {
	ring := func(x, d float64) profile.Element {
		return profile.Element{Kind: profile.Bead, X0: x - 10, X1: x + 10, D0: 20, D1: 20, Sagitta: d/2 - 10}
	}
	pat := profile.Pattern{Length: 400, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 60, D0: 20, D1: 20}, ring(70, 36),
		{Kind: profile.Cylinder, X0: 80, X1: 190, D0: 20, D1: 20}, ring(200, 28),
		{Kind: profile.Cylinder, X0: 210, X1: 320, D0: 20, D1: 20}, ring(330, 30),
		{Kind: profile.Cylinder, X0: 340, X1: 400, D0: 20, D1: 20},
	}}
	slope := (15.0 - 18.0) / (330 - 70)
	s := lying(pat, 18-70*slope, 18+330*slope)
	at := place(t, s, Height{}, 0.02)
	if e := axisError(s, at); e > 0.1 {
		t.Errorf("the axis is %.3f mm off", e)
	}
}

// TestSheet: the plane of a printed board lies its paper's thickness over the table that the piece lies on.
func TestSheet(t *testing.T) {
	s := stageFor(spindle(), 900, 45, 26-paper, r2.Vec{}, 0, 0, 0)
	sil := newSilhouette(s.sighting(t, 1, 0.02, rand.New(rand.NewPCG(4, 5))).Outline)
	sil.sheet = paper
	at, err := sil.place(s.truth(), Height{Mode: Level})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "height over the board", at.height[0], 26-paper, 0.02)
}

func TestHeightRefuses(t *testing.T) {
	s := plain(spindle())
	sil := newSilhouette(s.sighting(t, 1, 0, nil).Outline)
	for _, h := range []Height{{Mode: "upright"}, {Mode: Fixed, Value: 5000}} {
		if _, err := sil.place(s.truth(), h); !errors.Is(err, ErrHeight) && !errors.Is(err, ErrSides) {
			t.Errorf("%v: %v", h, err)
		}
	}
}
