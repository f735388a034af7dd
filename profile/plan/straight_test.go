package plan_test

import (
	"math"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// TestTaperExample: from 1 7/8 to 3/4 in over 26 in is 1 5/16 in at mid, 0.519 in a foot, half angle 1.239 degrees (a
// working example; the angle derived).
func TestTaperExample(t *testing.T) {
	c := planned(t, build(straight(profile.Taper, 26*in, 1.875*in, 0.75*in)), plan.Options{}).Checks
	if len(c) != 1 || len(c[0].Stations) != 5 {
		t.Fatalf("checks %+v", c)
	}
	within(t, "mid", c[0].Stations[2].Diameter/in, 1+5.0/16, 1e-9)
	within(t, "mid's station", c[0].Stations[2].X/in, 13, 1e-9)
	within(t, "taper per foot", c[0].PerFoot/in, 0.519, 0.0005)
	within(t, "half angle", c[0].Half*180/math.Pi, 1.239, 0.0005)
}

// TestTaperTable: included angles of tapers per foot (Machinery's Handbook's table of tapers), within 5 seconds.
func TestTaperTable(t *testing.T) {
	const second = math.Pi / 180 / 3600
	for _, c := range []struct{ perFoot, deg, min, sec float64 }{
		{0.25, 1, 11, 36}, {0.5, 2, 23, 10}, {0.75, 3, 34, 44}, {1, 4, 46, 18}, {2, 9, 31, 36}, {3, 14, 15, 0},
	} {
		got := planned(t, build(straight(profile.Taper, 12*in, 4*in, (4-c.perFoot)*in)), plan.Options{}).Checks[0]
		within(t, "taper per foot", got.PerFoot/in, c.perFoot, 1e-9)
		within(t, "included angle", 2*got.Half, (c.deg*3600+c.min*60+c.sec)*second, 5*second)
	}
}

func TestChecksAreStraightRunsOnly(t *testing.T) {
	for _, p := range []profile.Pattern{leg(), spindle()} {
		got := planned(t, p, plan.Options{})
		for _, c := range got.Checks {
			if k := p.Elements[c.Element].Kind; k != profile.Taper && k != profile.Cylinder {
				t.Errorf("a straightedge on a %s", k)
			}
			first, last := c.Stations[0], c.Stations[4]
			for _, s := range c.Stations {
				share := (s.X - first.X) / (last.X - first.X)
				within(t, "the straight line", s.Diameter, first.Diameter+share*(last.Diameter-first.Diameter), 1e-9)
			}
		}
	}
	if n := len(planned(t, leg(), plan.Options{}).Checks); n != 3 {
		t.Errorf("the leg has three tapers, %d are checked", n)
	}
}
