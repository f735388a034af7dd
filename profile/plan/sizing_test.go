package plan_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/plan"
	"spindlestick/profile/sizing"
)

// TestNoCutGoesUnderTheShape: whatever the pattern, a cut made at its caliper setting leaves the finished shape and what
// sanding takes, all across the tool, and lies in the piece.
func TestNoCutGoesUnderTheShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		o := plan.Options{Group: rapid.SampledFrom([]float64{-1, 0, 0.2, 2}).Draw(t, "group")}
		got, err := plan.Make(p, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range got.Cuts {
			e := p.Elements[c.Element]
			if c.From < e.X0-1e-9 || c.To > e.X1+1e-9 || c.To <= c.From {
				t.Fatalf("cut from %v to %v in an element from %v to %v", c.From, c.To, e.X0, e.X1)
			}
			set := got.Settings[c.Setting].Diameter
			for i := range 41 {
				x := c.From + (c.To-c.From)*float64(i)/40
				if d := e.At(x); set < d+sizing.UsualSanding-1e-6 {
					t.Fatalf("%s cut in a %s at %.3f: set to %.3f, the shape has %.3f", c.Place, e.Kind, x, set, d)
				}
			}
			if set > c.Diameter+got.Options.Group+1e-6 {
				t.Errorf("set to %v, the cut asks for %v", set, c.Diameter)
			}
		}
	})
}

// TestCutsLieDownhill: beside a mark the tool stands on the side where the shape falls away or stays level, or else the
// wood rises by no more than the allowance that is left (Milton and Wohlers: deep cuts on the downhill side of the mark).
func TestCutsLieDownhill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		got, err := plan.Make(p, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range got.Cuts {
			e := p.Elements[c.Element]
			if rise := e.At((c.From+c.To)/2) - c.Finished; c.Place == sizing.AtMark && rise > sizing.UsualAllowance {
				t.Errorf("a cut at %v stands %v mm uphill", c.Mark, rise)
			}
		}
	})
}

// TestDeepCutAtAStepLiesOnTheLowSide takes the leg's own steps.
func TestDeepCutAtAStepLiesOnTheLowSide(t *testing.T) {
	p := leg()
	got := planned(t, p, plan.Options{})
	for _, x := range []float64{97, 326} { // the pommel and a taper fall to fillets
		found := false
		for _, c := range got.Cuts {
			found = found || math.Abs(c.From-x) < 1e-6 && c.Place == sizing.Across
		}
		if !found {
			t.Errorf("no cut begins at %v on the low side", x)
		}
	}
}

// TestAllowances: tapers 1/16 in over, shoulders and coves to within 1/16 in (Milton and Wohlers, exercises A-I-2, 3, 5);
// beads for sanding alone, 0.2 to 0.5 mm (common practice, from memory).
func TestAllowances(t *testing.T) {
	for _, p := range []profile.Pattern{leg(), spindle()} {
		for _, c := range planned(t, p, plan.Options{Group: -1}).Cuts {
			k, left := p.Elements[c.Element].Kind, c.Diameter-c.Finished
			switch {
			case c.Place == sizing.Top:
				if left < 0.2 || left > 0.5 {
					t.Errorf("%s: %.2f mm for sanding", k, left)
				}
			case k == profile.Taper || k == profile.Fillet || k == profile.Cylinder:
				within(t, string(k)+"'s allowance", left, in/16, 1e-9)
			}
		}
	}
}

// TestEveryEndIsSized: both ends of every level part, taper, cove and swell of the leg and the spindle are reached by a
// cut, a setting of the rough cylinder, or the skew's point.
func TestEveryEndIsSized(t *testing.T) {
	for _, p := range []profile.Pattern{leg(), spindle()} {
		got := planned(t, p, plan.Options{})
		rough := got.Cylinders[0].Diameter
		for i, e := range p.Elements[1:] {
			x := e.X0
			before := p.Elements[i]
			if before.Kind == profile.Square || e.Kind == profile.Square || before.D1 > rough-in/16-1 && e.D0 > rough-in/16-1 {
				continue
			}
			reached := false
			for _, c := range got.Cuts {
				reached = reached || c.Place != sizing.Top && (math.Abs(c.From-x) < 0.05 || math.Abs(c.To-x) < 0.05)
			}
			for _, q := range got.Points {
				reached = reached || math.Abs(q.X-x) < 1e-9
			}
			if !reached {
				t.Errorf("nothing sizes %s | %s at %.1f", before.Kind, e.Kind, x)
			}
		}
	}
}

func TestCreaseBetweenBeadsIsForTheSkew(t *testing.T) {
	got := planned(t, spindle(), plan.Options{}).Points
	if len(got) != 1 || math.Abs(got[0].X-144.8) > 1e-9 || got[0].Diameter != 17.2 {
		t.Errorf("creases %+v", got)
	}
}

// TestTheFootOfASteepStepIsForTheSkew: the cut on the upper side does not size it.
func TestTheFootOfASteepStepIsForTheSkew(t *testing.T) {
	p := build(straight(profile.Cylinder, 30, 44, 44), straight(profile.Taper, 8, 38, 20), straight(profile.Cylinder, 30, 40, 40))
	got := planned(t, p, plan.Options{})
	if len(got.Points) != 1 || math.Abs(got.Points[0].X-38) > 1e-9 || got.Points[0].Diameter != 20 {
		t.Errorf("creases %+v", got.Points)
	}
}

// TestSettingsServeTheCuts: every cut has one, and they fall from large to small.
func TestSettingsServeTheCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		got, err := plan.Make(drawn(t), plan.Options{Group: rapid.Float64Range(0.1, 8).Draw(t, "group")})
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for i, s := range got.Settings {
			seen += len(s.Cuts)
			if i > 0 && s.Diameter >= got.Settings[i-1].Diameter {
				t.Errorf("settings do not fall: %v", got.Settings)
			}
			for _, k := range s.Cuts {
				if got.Cuts[k].Setting != i {
					t.Errorf("cut %d says setting %d, is in %d", k, got.Cuts[k].Setting, i)
				}
			}
		}
		if seen != len(got.Cuts) {
			t.Errorf("%d cuts in settings, %d in all", seen, len(got.Cuts))
		}
	})
}

// TestOneCutServesAMarkBetweenEqualDiameters, on the side that falls away faster (Milton and Wohlers: deep cuts on the
// downhill side of the mark); where neither falls by more than a shaving a level part keeps its own.
func TestOneCutServesAMarkBetweenEqualDiameters(t *testing.T) {
	for _, c := range []struct {
		name string
		p    profile.Pattern
		far  bool
	}{
		{"taper and cove", build(straight(profile.Taper, 60, 20, 30), curved(profile.Cove, 20, 30, 30, 22), fillet(5, 40)), true},
		{"cove and taper", build(fillet(20, 40), fillet(20, 36), curved(profile.Cove, 20, 30, 30, 22), straight(profile.Taper, 60, 30, 20)), false},
		{"cylinder and cove", build(straight(profile.Cylinder, 60, 30, 30), curved(profile.Cove, 20, 30, 30, 22), fillet(5, 40)), true},
		{"cylinder and slow taper", build(straight(profile.Cylinder, 60, 30, 30), straight(profile.Taper, 60, 30, 28), fillet(5, 40)), false},
	} {
		var at []sizing.Cut
		for _, cut := range planned(t, c.p, plan.Options{}).Cuts {
			if math.Abs(cut.Mark-60) < 1e-9 && cut.Place == sizing.AtMark {
				at = append(at, cut)
			}
		}
		if len(at) != 1 || (at[0].To > 60+1e-9) != c.far {
			t.Errorf("%s: cuts at the mark %+v", c.name, at)
		}
	}
}
