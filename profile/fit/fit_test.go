package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

func TestRefusesWhatIsNoTrace(t *testing.T) {
	for name, m := range map[string]view.Measurement{
		"nothing":    {},
		"one sample": {Trace: profile.Trace{Length: 100, Samples: []profile.Sample{{X: 1, R: 10}}}},
		"all hidden": {Trace: hiddenTrace()},
		"not finite": {Trace: profile.Trace{Length: math.NaN(), Samples: hiddenTrace().Samples}},
	} {
		if _, err := Fit(m, Options{}); !errors.Is(err, ErrTrace) {
			t.Errorf("%s: error %v, want one about the trace", name, err)
		}
	}
}

func hiddenTrace() profile.Trace {
	t := profile.Trace{Length: 50}
	for x := range 51 {
		t.Samples = append(t.Samples, profile.Sample{X: float64(x), R: 10, State: profile.Hidden})
	}
	return t
}

// TestUncertaintyCovers repeats the fit of one turning with fresh noise: stations and diameters must lie within
// their stated expanded uncertainty about as often as k = 2 promises (GUM: 95 %; the limit leaves room for
// the steps, whose stations are known to a sample's spacing only).
func TestUncertaintyCovers(t *testing.T) {
	want := (&plate{}).run(profile.Taper, 2, 0.75, 1).run(profile.Cylinder, 0.5, 1.25, 1.25).
		run(profile.Vee, 0.25, 1.25, 1.25).run(profile.Cylinder, 0.5, 1.25, 1.25).arc(profile.Cove, 0.7, 1, 1, -0.2).
		run(profile.Taper, 2, 0.9, 0.7)
	p := profile.Pattern{Length: want.x, Elements: want.es}
	in, all := 0, 0
	for i := range 25 {
		got, err := Trace(traced(p, 0.25, 0.03, rand.New(rand.NewPCG(uint64(i), 95))), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Elements) != len(p.Elements) {
			t.Fatalf("%v", kinds(got))
		}
		for j, w := range p.Elements {
			g := got.Elements[j]
			for _, c := range []struct{ got, want, u float64 }{{g.X1, w.X1, g.U.X1}, {g.D0, w.D0, g.U.D0}, {g.D1, w.D1, g.U.D1}} {
				if j == len(p.Elements)-1 && c.want == w.X1 {
					continue // the end is the trace's length
				}
				all++
				if math.Abs(c.got-c.want) <= c.u {
					in++
				}
				if c.u > 1 {
					t.Errorf("element %d: an uncertainty of %.2f mm says nothing", j+1, c.u)
				}
			}
		}
	}
	if share := float64(in) / float64(all); share < 0.9 {
		t.Errorf("%.0f %% of the numbers lie within their uncertainty, want about 95 %%", 100*share)
	} else {
		t.Logf("%.1f %% of %d numbers lie within their uncertainty", 100*share, all)
	}
}

// A chip takes material away: samples called damaged must not move the pattern.
func TestDamageIsPassedOver(t *testing.T) {
	p := (&plate{}).run(profile.Cylinder, 2, 1, 1).run(profile.Taper, 3, 1, 0.7)
	want := profile.Pattern{Length: p.x, Elements: p.es}
	tr := traced(want, 0.25, 0.02, rand.New(rand.NewPCG(1, 1)))
	for i := range tr.Samples {
		if s := &tr.Samples[i]; s.X > 20 && s.X < 26 {
			s.R -= 1.5
			s.State = profile.Damaged
		}
	}
	got, err := Trace(tr, Options{})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "diameter", got.Elements[0].D0, inch, 0.1)
	d, _ := got.DiameterAt(23)
	within(t, "diameter beside the chip", d, inch, 0.15)
}

// What is hidden costs nothing: a cylinder between two hidden stretches keeps its ends, and says so.
func TestHiddenStretches(t *testing.T) {
	p := (&plate{}).run(profile.Cylinder, 1, 1.5, 1.5).run(profile.Cylinder, 1, 1, 1).run(profile.Cylinder, 1, 1.5, 1.5)
	tr := traced(profile.Pattern{Length: p.x, Elements: p.es}, 0.25, 0.02, rand.New(rand.NewPCG(1, 1)))
	for i := range tr.Samples {
		if s := &tr.Samples[i]; s.R < 0.74*inch && (s.X < 35 || s.X > 45) {
			s.State = profile.Hidden
		}
	}
	got, err := Trace(tr, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Elements) != 3 {
		t.Fatalf("%v, want three cylinders", kinds(got))
	}
	mid := got.Elements[1]
	within(t, "rim before", mid.X0, inch, 0.3)
	within(t, "rim after", mid.X1, 2*inch, 0.3)
	if mid.State != profile.Inferred || got.Elements[0].State != profile.Visible {
		t.Errorf("states %q and %q, want inferred and visible", mid.State, got.Elements[0].State)
	}
}
