package sheet

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestFolded: a text comes to fill the mirror image of the place it had, and reads the other way up; arcs are those of
// the mirrored shape.
func TestFolded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := Text{
			At: Point{rapid.Float64Range(0, 100).Draw(t, "x"), rapid.Float64Range(0, 100).Draw(t, "y")},
			S:  "38.0 → 33.0", Cap: rapid.Float64Range(1, 5).Draw(t, "cap"), Anchor: Anchor(rapid.IntRange(0, 2).Draw(t, "anchor")),
			Turn: quarterTurn * float64(rapid.IntRange(0, 1).Draw(t, "turn")),
		}
		bow := Bow{Centre: text.At, R: 7, From: 0.3, To: 1.9}
		const fold = 60
		var p Page
		folded{&p, fold}.Write(text)
		folded{&p, fold}.Arc(bow, Pen{})
		got := p.Marks[0].(Text)
		if math.Abs(math.Mod(got.Turn-text.Turn, 2*math.Pi)-math.Pi) > 1e-12 {
			t.Fatalf("turned by %v", got.Turn-text.Turn)
		}
		want := rangeOf(text.Box())
		want[1], want[3] = 2*fold-want[3], 2*fold-want[1]
		for i, g := range rangeOf(got.Box()) {
			if math.Abs(g-want[i]) > 1e-9 {
				t.Fatalf("fills %v, want %v", rangeOf(got.Box()), want)
			}
		}
		b := p.Marks[1].(Curve).Bow
		if a, c := bow.At(bow.From), b.At(b.To); math.Abs(a.X-c.X) > 1e-9 || math.Abs(2*fold-a.Y-c.Y) > 1e-9 {
			t.Fatalf("the arc begins at %v, its image ends at %v", a, c)
		}
	})
}

// rangeOf is the left, upper, right and lower bound of points.
func rangeOf(pts [4]Point) [4]float64 {
	out := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		out = [4]float64{math.Min(out[0], p.X), math.Min(out[1], p.Y), math.Max(out[2], p.X), math.Max(out[3], p.Y)}
	}
	return out
}
