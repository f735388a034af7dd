package plan_test

import (
	"testing"

	"spindlestick/profile/plan"
)

// TestOpening: the opening is the spacing less the smallest facing diameter; a guard commonly stops a sphere of 4 in (IRC
// R312.1.3) or 100 mm (UK Approved Document K). The local code decides.
func TestOpening(t *testing.T) {
	for _, c := range []struct {
		spacing, opening float64
		four, hundred    bool
	}{{120, 99.6, true, true}, {121, 100.6, true, false}, {123, 102.6, false, false}} {
		g := plan.Opening(leg(), c.spacing) // smallest diameter 20.4
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
	thick, thin := plan.Opening(build(fillet(100, 30)), 120), plan.Opening(build(fillet(100, 28)), 120)
	within(t, "the gap's growth", thin.Opening-thick.Opening, 2, 1e-9)
}
