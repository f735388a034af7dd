package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// post is a piece with square stretches at its ends, or at one, and between its round parts.
func post(side float64, first, middle, last bool) profile.Pattern {
	round := func(kind profile.Kind, x0, x1, d0, d1, sagitta float64) profile.Element {
		return profile.Element{Kind: kind, X0: x0, X1: x1, D0: d0 * side, D1: d1 * side, Sagitta: sagitta * side}
	}
	block := func(is bool, x0, x1 float64) profile.Element {
		if is {
			return profile.Element{Kind: profile.Square, X0: x0, X1: x1, D0: side, D1: side, Side: side}
		}
		return round(profile.Cylinder, x0, x1, 0.8, 0.8, 0)
	}
	return profile.Pattern{Length: 420, Elements: []profile.Element{
		block(first, 0, 90),
		round(profile.Taper, 90, 150, 0.5, 0.8, 0),
		round(profile.Bead, 150, 170, 0.7, 0.7, 0.12),
		round(profile.Cylinder, 170, 190, 0.6, 0.6, 0),
		block(middle, 190, 240),
		round(profile.Taper, 240, 330, 0.7, 0.5, 0),
		block(last, 330, 420),
	}}
}

// posed photographs a piece from a random place with a random lens; its squares lie turned by roll from flat.
func posed(pat profile.Pattern, half, roll float64, rng *rand.Rand) stage {
	focal := 26 + 30*rng.Float64()
	distance := focal / 36 * (pat.Length + 160 + 300*rng.Float64())
	across := (rng.Float64() - 0.5) * 0.35 * distance
	s := stageFor(pat, distance, focal, half-paper, r2.Vec{X: 60 * (rng.Float64() - 0.5), Y: across},
		0.2*(rng.Float64()-0.5), 0.1*(rng.Float64()-0.5), 0.1*(rng.Float64()-0.5))
	for i := range s.pattern.Elements {
		if s.pattern.Elements[i].Kind == profile.Square {
			s.pattern.Elements[i].Roll = s.scene.FlatRoll() + roll
		}
	}
	return s
}

// checkSquares compares the trace with the pattern in the squares and the round parts, 4 mm away from steps.
func checkSquares(t *testing.T, s stage, tr profile.Trace, within float64) {
	t.Helper()
	near(t, "length", tr.Length, s.pattern.Length, 0.15)
	for _, e := range s.pattern.Elements {
		if e.Kind != profile.Square {
			continue
		}
		for x := e.X0 + 3; x < e.X1-3; x += 2 {
			q, _ := tr.At(x)
			if off := q.R - e.Side/2; math.Abs(off) > within || q.State != profile.Visible || math.Abs(q.Sides[1]-q.Sides[0]) > 2*q.U {
				t.Errorf("at %.0f mm of a square of %.1f: half side %.3f off, %s, sides %.3f", x, e.Side, off, q.State, q.Sides)
				break
			}
		}
	}
}

// TestSquaresFromAnywhere: squares that lie flat read as such wherever the camera is, at both ends and at one, and
// hold the axis half their side above the plane.
func TestSquaresFromAnywhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	for k := range 6 {
		side := 30 + 25*rng.Float64()
		s := posed(post(side, true, false, k%2 == 0), side/2, 0, rng)
		m, err := Measure(s.sighting(t, 2, 0.05, rng), Hints{Height: Height{Mode: Level}})
		if err != nil {
			t.Fatal(err)
		}
		height := m.Scene.Plane.ToPlane(m.Scene.Axis.P)
		near(t, "height", height.Z, side/2-paper, 0.12)
		checkSquares(t, s, m.Trace, 0.1)
		if t.Failed() {
			t.Fatalf("piece %d: side %.1f seen from %.0f mm, turned by %.1f degrees", k, side, s.scene.Axis.P.Z, s.scene.FlatRoll()*180/math.Pi)
		}
	}
}

// TestSquareRolled: a square end tells its own roll, corner on too.
func TestSquareRolled(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 8))
	for _, degrees := range []float64{45, 20, -12} {
		s := posed(post(40, true, false, true), 20, degrees*math.Pi/180, rng)
		m, err := Measure(s.sighting(t, 2, 0.05, rng), Hints{Height: Height{Mode: Fixed, Value: 20 - paper}})
		if err != nil {
			t.Fatal(err)
		}
		checkSquares(t, s, m.Trace, 0.2)
		if t.Failed() {
			t.Fatalf("turned by %.0f degrees", degrees)
		}
	}
}

// TestSquareBetweenRounds: a square in the middle of a piece betrays itself when the camera does not look at it flat on.
func TestSquareBetweenRounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, across := range []float64{70, -90, 120} {
		s := stageFor(post(42, true, true, false), 650, 35, 21-paper, r2.Vec{X: 20, Y: across}, 0.05, 0.03, 0.02)
		for i := range s.pattern.Elements {
			s.pattern.Elements[i].Roll = s.scene.FlatRoll()
		}
		m, err := Measure(s.sighting(t, 2, 0.05, rng), Hints{Height: Height{Mode: Level}})
		if err != nil {
			t.Fatal(err)
		}
		checkSquares(t, s, m.Trace, 0.1)
	}
}

// TestSquareBetweenRoundsFlatOn: a square in the middle of a piece, cut off square, is known by its straight walls though
// the camera looks at it flat on, and a cylinder in its place is not taken for one.
func TestSquareBetweenRoundsFlatOn(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 8))
	for _, along := range []float64{-90, 110} {
		for _, square := range []bool{true, false} {
			s := stageFor(post(42, false, square, false), 500, 28, 21-paper, r2.Vec{X: along}, 0.05, 0, 0)
			for i := range s.pattern.Elements {
				s.pattern.Elements[i].Roll = s.scene.FlatRoll()
			}
			m, err := Measure(s.sighting(t, 1, 0.05, rng), Hints{Height: Height{Mode: Fixed, Value: 21 - paper}})
			if err != nil {
				t.Fatal(err)
			}
			if found := len(m.Squares) == 1; found != square {
				t.Errorf("%g mm along, square %v: found %+v", along, square, m.Squares)
				continue
			}
			if square {
				q := m.Squares[0]
				near(t, "side", q.Side, 42, 0.15)
				near(t, "start", q.X0, 190, 0.5)
				near(t, "end", q.X1, 240, 0.5)
			}
		}
	}
}

// TestVariantsKeepSquares: no variant of the reference loses a square or stands the axis elsewhere for it.
func TestVariantsKeepSquares(t *testing.T) {
	s := stageFor(post(42, true, false, true), 480, 28, 21-paper, r2.Vec{}, 0, 0, 0)
	g, err := gauge(s.sighting(t, 2, 0.05, rand.New(rand.NewPCG(10, 8))), Hints{Height: Height{Mode: Level}})
	if err != nil {
		t.Fatal(err)
	}
	sil := newSilhouette(s.sighting(t, 2, 0.05, rand.New(rand.NewPCG(10, 8))).Outline)
	at, _, err := g.place(sil, g.ref, g.prior)
	if err != nil || len(at.squares) != 2 {
		t.Fatalf("squares %+v, %v", at.squares, err)
	}
	for i, r := range g.ref.Variants() {
		v, _, err := g.place(sil.beside(at), r, g.prior)
		if err != nil || len(v.squares) != 2 || math.Abs(v.height[0]-at.height[0]) > 0.1 {
			t.Errorf("variant %d: squares %+v, height %.2f for %.2f, %v", i, v.squares, v.height[0], at.height[0], err)
		}
	}
}

// TestRoundEndsAreNotSquare: whatever the camera, a round end is not taken for a square.
func TestRoundEndsAreNotSquare(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for range 4 {
		s := posed(post(40, false, false, false), 16, 0, rng)
		at, err := newSilhouette(s.sighting(t, 2, 0.05, rng).Outline).place(s.truth(), Height{Mode: Fixed, Value: 16 - paper})
		if err != nil {
			t.Fatal(err)
		}
		if len(at.squares) > 0 {
			t.Errorf("squares %+v", at.squares)
		}
	}
}
