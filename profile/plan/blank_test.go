package plan_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

const in = 25.4

// TestBlankIsJustOverTheSquare: about 1/32 in over, where 1/8 in is a mistake (woodworkersjournal).
func TestBlankIsJustOverTheSquare(t *testing.T) {
	got := planned(t, leg(), plan.Options{}).Blank
	within(t, "the blank's side", got.Side, 41+in/32, 1e-9)
	within(t, "the blank's length", got.Length, 380+2*plan.DefaultWaste, 1e-9)
}

// TestNominalSizes: nominal 2, 3 and 4 in are 1 1/2, 2 1/2 and 3 1/2 in (PS 20).
func TestNominalSizes(t *testing.T) {
	for _, c := range []struct {
		side float64 // of the finished square
		want string
	}{{1.4 * in, "2 x 2 in"}, {(1.5 - 1.0/32) * in, "2 x 2 in"}, {1.5 * in, "3 x 3 in"}, {2.4 * in, "3 x 3 in"}, {3 * in, "4 x 4 in"}, {3.6 * in, ""}} {
		b := planned(t, build(square(100, c.side), fillet(50, c.side/2)), plan.Options{}).Blank
		got := ""
		if b.Lumber != nil {
			got = b.Lumber.Name
		}
		if got != c.want {
			t.Errorf("a square of %.3f in: %q, want %q", c.side/in, got, c.want)
		}
	}
}

func TestWasteIsASetting(t *testing.T) {
	got := planned(t, leg(), plan.Options{Waste: [2]float64{-1, 40}}).Blank
	if got.Waste != [2]float64{0, 40} || math.Abs(got.Length-420) > 1e-9 {
		t.Errorf("waste %v, length %v", got.Waste, got.Length)
	}
}

// TestTheWholePieceFitsInTheBlank looks from every station: squares by their side, round parts by their diameter.
func TestTheWholePieceFitsInTheBlank(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		got, err := plan.Make(p, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		b := got.Blank
		for _, e := range p.Elements {
			size := 0.0
			for i := range 101 {
				size = max(size, e.At(e.X0+e.Length()*float64(i)/100))
			}
			if e.Kind == profile.Shoulder {
				size = e.Side
			}
			if size > b.Side {
				t.Errorf("%s of %.2f mm in a blank of %.2f", e.Kind, size, b.Side)
			}
		}
		if b.Lumber != nil && b.Lumber.Actual < b.Side-0.05 || b.Metric > 0 && b.Metric < b.Side-0.05 {
			t.Errorf("stock %v, %v for a blank of %v", b.Lumber, b.Metric, b.Side)
		}
	})
}

func TestASmallerSquareIsNamed(t *testing.T) {
	got := planned(t, build(square(50, 40), fillet(10, 30), square(50, 32)), plan.Options{}).Blank
	if len(got.Reduced) != 1 || got.Reduced[0] != 32 {
		t.Errorf("squares to plane down: %v", got.Reduced)
	}
}

// TestPommelLines: the last of a flat of side s goes where the radius is s/2, since the shoulder cuts it along
// y = sqrt(r² - s²/4).
func TestPommelLines(t *testing.T) {
	p := build(square(100, 50), straight(profile.Shoulder, 20, 70, 40), fillet(30, 30), square(40, 50))
	p.Elements[1].Side = 50
	p.Elements[1].Style = profile.Straight
	want := []float64{0, 100, 100 + 20*2/3.0, 120, 150, 190} // 70 to 40 over 20 mm is 50 after two thirds
	got := planned(t, p, plan.Options{}).Lines
	if len(got) != len(want) {
		t.Fatalf("lines: %+v", got)
	}
	for i, l := range got {
		within(t, l.What, l.X, want[i], 1e-6)
	}
}

func TestPommelLinesMirror(t *testing.T) {
	var xs []float64
	for _, l := range planned(t, build(fillet(50, 30), shoulder(15, 44, 38, false), square(60, 44)), plan.Options{}).Lines {
		xs = append(xs, l.X)
	}
	for i := 1; i < len(xs); i++ {
		if xs[i] <= xs[i-1] {
			t.Errorf("lines are out of order: %v", xs)
		}
	}
	if len(xs) != 5 {
		t.Errorf("lines at %v", xs)
	}
}

func TestRoughStaysAwayFromThePommel(t *testing.T) {
	p := build(square(80, 44), shoulder(15, 44, 38, true), fillet(60, 30), shoulder(15, 44, 38, false), square(60, 44), fillet(20, 20))
	got := planned(t, p, plan.Options{}).Cylinders
	if len(got) != 2 || got[0].From != 95 || got[0].To != 155 || got[1].From != 230 || got[1].To != 250+plan.DefaultWaste {
		t.Fatalf("cylinders %+v", got)
	}
	within(t, "the first", got[0].Diameter, 30+in/16, 1e-9)
	within(t, "the tenon's", got[1].Diameter, 20+in/16, 1e-9)
}
