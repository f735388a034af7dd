package plan_test

import (
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// TestOpening: the opening is the spacing less the smallest facing diameter; a guard commonly stops a sphere of 4 in (IRC
// R312.1.3) or 100 mm (UK Approved Document K). The local code decides.
func TestOpening(t *testing.T) {
	for _, c := range []struct {
		spacing, opening float64
		four, hundred    bool
	}{{120, 99.6, true, true}, {121, 100.6, true, false}, {123, 102.6, false, false}} {
		g := plan.Opening(leg(), c.spacing, [2]float64{}) // smallest diameter 20.4
		within(t, "opening", g.Opening, c.opening, 1e-9)
		for _, s := range plan.Spheres() {
			want := c.hundred
			if s.Diameter == 4*in {
				want = c.four
			}
			if g.Stops(s) != want {
				t.Errorf("spacing %v, sphere %v: stops %v", c.spacing, s.Diameter, g.Stops(s))
			}
		}
	}
}

func TestAThinnerCopyOpensTheGap(t *testing.T) {
	thick, thin := plan.Opening(build(fillet(100, 30)), 120, [2]float64{}), plan.Opening(build(fillet(100, 28)), 120, [2]float64{})
	within(t, "the gap's growth", thin.Opening-thick.Opening, 2, 1e-9)
}

// TestTenonsFaceNothing: the opening is the spacing less the smallest facing diameter (IRC R312.1.3, UK Approved Document
// K look at the opening), and a tenon is in its rail.
func TestTenonsFaceNothing(t *testing.T) {
	p := build(straight(profile.Cylinder, 25, 16, 16), square(80, 40), straight(profile.Taper, 300, 24, 36), fillet(5, 40), straight(profile.Cylinder, 30, 18, 18))
	for _, c := range []struct {
		tenons   [2]float64
		from, to float64
		smallest float64
	}{
		{[2]float64{}, 25, 410, 24},           // as the pattern shows them
		{[2]float64{-1, 0}, 0, 410, 16},       // the hook end stands free
		{[2]float64{0, -1}, 25, 440, 18},      // the far end does
		{[2]float64{25, 185}, 25, 255, 24},    // one far in, which leaves the thin part of the taper
		{[2]float64{255, 30}, 255, 410, 30},   // the rail hides half of the taper: from 24 to 36 over 300 mm
		{[2]float64{12.5, 15}, 12.5, 425, 16}, // half of each is hidden
	} {
		g := plan.Opening(p, 130, c.tenons)
		within(t, "from", g.Between[0], c.from, 1e-9)
		within(t, "to", g.Between[1], c.to, 1e-9)
		within(t, "smallest", g.Smallest.Diameter, c.smallest, 1e-9)
		within(t, "opening", g.Opening, 130-c.smallest, 1e-9)
	}
}

// TestNoTenonNoGuess: an end that does not step is no tenon, however thin.
func TestNoTenonNoGuess(t *testing.T) {
	for name, p := range map[string]profile.Pattern{
		"a taper to the end":  build(straight(profile.Taper, 100, 16, 30), fillet(5, 30), straight(profile.Taper, 100, 30, 16)),
		"a step of a mm":      build(straight(profile.Cylinder, 30, 29, 29), straight(profile.Cylinder, 100, 30, 30), fillet(5, 34)),
		"a fillet at the end": build(fillet(3, 20), straight(profile.Cylinder, 100, 30, 30), fillet(3, 20)),
		"one cylinder":        build(straight(profile.Cylinder, 100, 30, 30)),
		"one that steps down": build(straight(profile.Cylinder, 30, 40, 40), straight(profile.Cylinder, 100, 30, 30), fillet(5, 30)),
	} {
		if g := plan.Opening(p, 120, [2]float64{}); g.Between != [2]float64{0, p.Length} {
			t.Errorf("%s: between %v", name, g.Between)
		}
	}
}
