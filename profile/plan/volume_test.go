package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// TestVolumes compares with the solids' own formulas: cylinder, prism, frustum of a cone, zone of a sphere.
func TestVolumes(t *testing.T) {
	zone := func(r, h float64) float64 { return math.Pi * h * (r*r - h*h/12) } // between two planes, h/2 to each side of the middle
	for _, c := range []struct {
		name string
		p    profile.Pattern
		want float64
	}{
		{"cylinder", build(fillet(10, 20)), math.Pi * 100 * 10},
		{"prism", build(square(30, 40)), 30 * 40 * 40},
		{"frustum", build(straight(profile.Taper, 60, 20, 40)), math.Pi * 60 / 3 * (100 + 200 + 400)},
		// A sphere of 30 mm diameter cut 9 mm to each side of its middle, where it has 24.
		{"ball", build(curved(profile.Bead, 18, 24, 24, 30)), zone(15, 18)},
	} {
		within(t, c.name, planned(t, c.p, plan.Options{}).Weight.Volume/c.want, 1, 1e-4)
	}
}

// TestShoulderVolume counts random points of a straight shoulder: inside the square and inside the cone.
func TestShoulderVolume(t *testing.T) {
	p := build(straight(profile.Shoulder, 20, 40*math.Sqrt2, 30))
	p.Elements[0].Side, p.Elements[0].Style = 40, profile.Straight
	rng := rand.New(rand.NewPCG(1, 2))
	const n = 400000
	hits := 0
	for range n {
		x, y, z := 20*rng.Float64(), 40*rng.Float64()-20, 40*rng.Float64()-20
		if math.Hypot(y, z) < p.Elements[0].At(x)/2 {
			hits++
		}
	}
	// The counting's own standard deviation is 0.07 % here; five of them.
	within(t, "shoulder", planned(t, p, plan.Options{}).Weight.Volume/(20*40*40*float64(hits)/n), 1, 0.0035)
}

// TestWeight: specific gravity is oven-dry mass over volume at the moisture said, so at 12 % a cubic metre of white oak
// (0.68, Wood Handbook, table 5-3, from memory) weighs 762 kg.
func TestWeight(t *testing.T) {
	got := planned(t, build(square(1000, 100)), plan.Options{Species: "white oak"}).Weight
	within(t, "a hundredth of a cubic metre of white oak", got.Piece, 7.62, 0.01)
	if got.Blank <= got.Piece {
		t.Errorf("the blank weighs %v, the piece %v", got.Blank, got.Piece)
	}
	if w := planned(t, leg(), plan.Options{Species: "mahogany"}).Weight; w.Piece != 0 || w.Volume == 0 {
		t.Errorf("a wood without a density weighs %v", w.Piece)
	}
}
