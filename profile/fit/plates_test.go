package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
)

// The exercises are plates of A. S. Milton and O. K. Wohlers, A Course in Wood Turning (Bruce Publishing, 1919);
// every length and diameter is printed on the plate in inches.

const inch = profile.MMPerInch

// plate lays elements end to end. Lengths and diameters are in inches.
type plate struct {
	x  float64
	es []profile.Element
}

func (p *plate) run(kind profile.Kind, length, d0, d1 float64) *plate {
	e := profile.Element{Kind: kind, X0: p.x, X1: p.x + length*inch, D0: d0 * inch, D1: d1 * inch}
	if kind == profile.Vee {
		// 90 degrees included: as deep as half its width.
		e.InnerX, e.InnerD = (e.X0+e.X1)/2, e.D0-length*inch
	}
	p.x = e.X1
	p.es = append(p.es, e)
	return p
}

// arc adds a run with a sagitta in inches.
func (p *plate) arc(kind profile.Kind, length, d0, d1, sagitta float64) *plate {
	p.run(kind, length, d0, d1)
	p.es[len(p.es)-1].Sagitta = sagitta * inch
	return p
}

// plateTests are exercises with dimensions as printed.
func plateTests() map[string]profile.Pattern {
	shoulders := (&plate{}).run(profile.Cylinder, 2, 1+5./8, 1+5./8).run(profile.Cylinder, 2, 1.25, 1.25).
		run(profile.Cylinder, 2, 1, 1).run(profile.Cylinder, 2, 0.75, 0.75)
	tapers := (&plate{}).run(profile.Taper, 3.25, 0.75, 1+5./8).run(profile.Cylinder, 1.5, 1+5./8, 1+5./8).
		run(profile.Taper, 3.25, 1+5./8, 0.75)
	vees := (&plate{}).run(profile.Cylinder, 1, 1+5./8, 1+5./8)
	for range 7 {
		vees.run(profile.Vee, 0.5, 1+5./8, 1+5./8).run(profile.Cylinder, 0.5, 1+5./8, 1+5./8)
	}
	coves := (&plate{}).run(profile.Cylinder, 0.5, 1+5./8, 1+5./8)
	for range 6 {
		// 3/4 inch wide down to 7/8 inch: a semicircle.
		coves.arc(profile.Cove, 0.75, 1+5./8, 1+5./8, -3./8).run(profile.Cylinder, 0.5, 1+5./8, 1+5./8)
	}
	rounds := &plate{}
	for range 8 {
		// A quarter circle of 1/2 inch: chord sqrt(1/2), sagitta R - R cos 45.
		rounds.run(profile.Cylinder, 0.5, 1.5, 1.5).arc(profile.HalfBead, 0.5, 1.5, 0.5, 0.5*(1-math.Sqrt2/2))
	}
	out := map[string]profile.Pattern{}
	for name, p := range map[string]*plate{"A-I-2-a shoulder cuts": shoulders, "A-I-3-a taper cuts": tapers,
		"A-I-4-a V cuts": vees, "A-I-5-a concave cuts": coves, "A-I-6-a convex cuts": rounds} {
		out[name] = profile.Pattern{Length: p.x, Elements: p.es}
	}
	return out
}

// TestPlates fits each exercise from a noisy trace and asks for the printed figures back: stations to 0.3 mm (half the
// 1/32 inch that a rule shows is 0.4; the hardest, at 0.26, are the rounds that leave the level without a corner), diameters
// to twice what a vernier caliper reads (0.05 mm, DIN 862) at a noise of 0.03 mm.
func TestPlates(t *testing.T) {
	const station, diameter = 0.3, 0.1
	for name, want := range plateTests() {
		t.Run(name, func(t *testing.T) {
			if math.Abs(want.Length-8*inch) > 1e-9 {
				t.Fatalf("the plate is 8 inches long, the test's pattern %.3f mm", want.Length)
			}
			got, err := Trace(traced(want, 0.25, 0.03, rand.New(rand.NewPCG(8, 1919))), Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Elements) != len(want.Elements) {
				t.Fatalf("%d elements, the plate has %d: %v", len(got.Elements), len(want.Elements), kinds(got))
			}
			for i, w := range want.Elements {
				g := got.Elements[i]
				if g.Kind != w.Kind {
					t.Errorf("element %d is a %s, the plate shows a %s", i+1, g.Kind, w.Kind)
				}
				within(t, "start", g.X0, w.X0, station)
				within(t, "end", g.X1, w.X1, station)
				if _, d, ok := w.Mid(); ok {
					_, m, _ := g.Mid()
					within(t, "bottom or crest", m, d, diameter)
				} else if w.Kind != profile.HalfBead {
					within(t, "diameter", g.D0, w.D0, diameter)
				}
			}
		})
	}
}

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s %.3f mm, want %.3f mm", what, got, want)
	}
}

func kinds(p profile.Pattern) (out []profile.Kind) {
	for _, e := range p.Elements {
		out = append(out, e.Kind)
	}
	return out
}
