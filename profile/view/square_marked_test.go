package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// belted is a turning with a square of 30 mm between round parts.
func belted(roll float64) profile.Pattern {
	const side = 30.0
	corner := side * math.Sqrt2
	return profile.Pattern{Length: 300, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 60, D0: 24, D1: 24},
		{Kind: profile.Taper, X0: 60, X1: 120, D0: 24, D1: 28},
		{Kind: profile.Shoulder, X0: 120, X1: 126, D0: 28, D1: corner, Side: side, Style: profile.Straight, Roll: roll},
		{Kind: profile.Square, X0: 126, X1: 186, D0: side, D1: side, Side: side, Roll: roll},
		{Kind: profile.Shoulder, X0: 186, X1: 192, D0: corner, D1: 28, Side: side, Style: profile.Straight, Roll: roll},
		{Kind: profile.Taper, X0: 192, X1: 240, D0: 28, D1: 24},
		{Kind: profile.Cylinder, X0: 240, X1: 300, D0: 24, D1: 24},
	}}
}

// A square that lies flat on, or corner on, between round parts looks round; marked, it is one, of the right side, and
// the marks need not be exact.
func TestMarkedSquareIsSquare(t *testing.T) {
	for name, turn := range map[string]float64{"flat on": 0, "corner on": math.Pi / 4, "turned": 0.3} {
		t.Run(name, func(t *testing.T) {
			s := stageFor(belted(0), 900, 45, 0, r2.Vec{}, 0, 0.02, 0)
			for i := range s.pattern.Elements {
				if s.pattern.Elements[i].Side > 0 {
					s.pattern.Elements[i].Roll = s.scene.FlatRoll() + turn
				}
			}
			sight := s.sighting(t, 1, 0.03, rand.New(rand.NewPCG(6, 12)))
			p, err := NewProjector(s.scene)
			if err != nil {
				t.Fatal(err)
			}
			h := Hints{Height: Height{Mode: Raised}, Corrections: []Correction{{Kind: MarkSquare, Path: []r2.Vec{s.pixel(p, 180, 0), s.pixel(p, 130, 0)}, Turn: turn}}}
			m, err := Measure(sight, h)
			if err != nil {
				t.Fatal(err)
			}
			if len(m.Squares) != 1 {
				t.Fatalf("%d squares", len(m.Squares))
			}
			q := m.Squares[0]
			if math.Abs(q.Side-30) > 0.1 || q.X0 > 131 || q.X1 < 181 || q.X0 < 116 || q.X1 > 196 {
				t.Errorf("a square of %.2f mm from %.1f to %.1f mm", q.Side, q.X0, q.X1)
			}
			at, _ := m.Trace.At(155)
			near(t, "half side", at.R, 15, 0.05)
		})
	}
}

func TestMarksOutsideThePieceAreNoSquares(t *testing.T) {
	s := stageFor(belted(0), 900, 45, 0, r2.Vec{}, 0, 0.02, 0)
	sight := s.sighting(t, 1, 0.03, rand.New(rand.NewPCG(6, 12)))
	h := Hints{Height: Height{Mode: Raised}, Corrections: []Correction{{Kind: MarkSquare, Path: []r2.Vec{{X: -900}, {X: -800}}}, {Kind: MarkSquare, Path: []r2.Vec{{}}}}}
	m, err := Measure(sight, h)
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range m.Squares {
		if q.X1 <= q.X0 || q.X0 < -1e-6 || q.X1 > m.Trace.Length+1e-6 {
			t.Errorf("a square from %.1f to %.1f mm", q.X0, q.X1)
		}
	}
}
