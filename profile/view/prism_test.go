package view

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"spindlestick/profile"
)

// block is a square by itself.
func block(side, length, roll float64) profile.Pattern {
	return profile.Pattern{Length: length, Elements: []profile.Element{
		{Kind: profile.Square, X0: 0, X1: length, D0: side, D1: side, Side: side, Roll: roll},
	}}
}

// TestPrismIsHullOfCorners: in the picture, a square reaches as far as the lines between its eight corners.
func TestPrismIsHullOfCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		side, roll := draw(20, 80, "side"), draw(-1, 1, "roll")
		s := stageFor(block(side, 150, roll), draw(300, 2000, "distance"), 40, 0, r2.Vec{X: draw(-150, 150, "along")}, 0, 0, 0)
		p, err := NewProjector(s.scene)
		if err != nil {
			t.Fatal(err)
		}
		l := p.Look(s.pattern)
		var corners []r2.Vec
		for _, x := range []float64{0, 150} {
			for k := range 4 {
				sin, cos := math.Sincos(roll + math.Pi/4 + float64(k)*math.Pi/2)
				at := r3.Vec{X: x - p.Foot, Y: side / math.Sqrt2 * cos, Z: p.D + side/math.Sqrt2*sin}
				corners = append(corners, r2.Vec{X: at.X / at.Z, Y: at.Y / at.Z})
			}
		}
		u := p.U(draw(-20, 170, "station"))
		for which := range 2 {
			want, seen := math.Inf(-1), false
			for _, a := range corners {
				for _, b := range corners {
					if a.X < u && u < b.X {
						v := a.Y + (u-a.X)/(b.X-a.X)*(b.Y-a.Y)
						want, seen = math.Max(want, v*outward(which)), true
					}
				}
			}
			got, ok := l.Width(u, which)
			if ok != seen || seen && math.Abs(got-want) > 1e-12 {
				t.Errorf("side %d: %v %v, want %v %v", which, got, ok, want, seen)
			}
		}
	})
}

// TestRolledSquareReads: far away, a square of side s turned by psi reads s (cos psi + sin psi) across: 1.7 % more at
// one degree.
func TestRolledSquareReads(t *testing.T) {
	for _, deg := range []float64{0, 1, 5, 45} {
		psi := deg * math.Pi / 180
		s := stageFor(block(50, 200, psi), 1e6, 50, 0, r2.Vec{}, 0, 0, 0)
		p := projector(t, s.scene)
		l := p.Look(s.pattern)
		a, _ := l.Width(0, 0)
		b, _ := l.Width(0, 1)
		near(t, "reading", (a+b)*p.D, 50*(math.Cos(psi)+math.Sin(psi)), 0.005)
	}
	near(t, "one degree", math.Cos(math.Pi/180)+math.Sin(math.Pi/180), 1.017, 5e-4)
}

// TestShoulderOnTheFlat: from far away, face on, a shoulder reads half the side until its round comes inside the
// flats at r = s/2, since it cuts the flat along y = sqrt(r² - s²/4); corner on, it reads its round from the corner
// (s / sqrt 2) down.
func TestShoulderOnTheFlat(t *testing.T) {
	const side = 50.0
	corner := side * math.Sqrt2
	for _, c := range []struct{ roll float64 }{{0}, {math.Pi / 4}} {
		pat := profile.Pattern{Length: 200, Elements: []profile.Element{
			{Kind: profile.Square, X0: 0, X1: 60, D0: side, D1: side, Side: side, Roll: c.roll},
			{Kind: profile.Shoulder, X0: 60, X1: 100, D0: corner, D1: 30, Side: side, Style: profile.Straight},
			{Kind: profile.Cylinder, X0: 100, X1: 200, D0: 30, D1: 30},
		}}
		s := stageFor(pat, 1e6, 50, 0, r2.Vec{}, 0, 0, 0)
		p := projector(t, s.scene)
		l := p.Look(pat)
		for x := 62.0; x < 100; x += 3 {
			r := pat.Elements[1].At(x) / 2
			want := r
			if c.roll == 0 {
				want = math.Min(r, side/2)
			}
			v, _ := l.Width(p.U(x), 1)
			near(t, "reading", v*p.D, want, 0.01)
		}
	}
}

// TestHalfSide: what the near edges of a flat square read as a radius gives back half its side.
func TestHalfSide(t *testing.T) {
	s := stageFor(block(60, 300, 0), 700, 28, 0, r2.Vec{}, 0, 0, 0)
	p := projector(t, s.scene)
	v, _ := p.Look(s.pattern).Width(0, 0)
	near(t, "half side", p.HalfSide(p.D*v/math.Sqrt(1+v*v)), 30, 1e-9)
	if r := p.D * v / math.Sqrt(1+v*v); r < 31 {
		t.Errorf("the near edges read %.2f mm: perspective should make them more than 31", r)
	}
}

// TestFlatRoll: a square on the plane has the roll at which its faces are parallel to the plane.
func TestFlatRoll(t *testing.T) {
	s := stageFor(block(40, 300, 0), 800, 35, 20, r2.Vec{Y: 120}, 0, 0.05, 0)
	p := projector(t, s.scene)
	sec := newSection(40, s.scene.FlatRoll())
	n := s.scene.Plane.Normal()
	ny, nz := r3.Dot(n, p.y), r3.Dot(n, p.z)
	var heights []float64
	for _, c := range sec.corners {
		heights = append(heights, c.X*ny+c.Y*nz)
	}
	near(t, "one face", math.Abs(heights[0]-heights[1])+math.Abs(heights[2]-heights[3]), 0, 1e-9)
	near(t, "its height", math.Abs(heights[0]), 20, 1e-9)
}
