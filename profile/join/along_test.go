package join_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/fit"
	"spindlestick/profile/join"
)

// baluster is a design of this project's own, 700 mm long.
func baluster() profile.Pattern {
	var es []profile.Element
	x := 0.0
	add := func(k profile.Kind, l, d0, d1, mid float64) {
		e := profile.Element{Kind: k, X0: x, X1: x + l, D0: d0, D1: d1}
		if k == profile.Vee {
			e.InnerX, e.InnerD = x+l/2, mid
		} else if k.Curved() {
			e, _ = e.WithMid(mid)
		}
		es = append(es, e)
		x += l
	}
	add(profile.Cylinder, 60, 32, 32, 0)
	add(profile.Fillet, 4, 24, 24, 0)
	add(profile.Bead, 12, 25, 25, 37)
	add(profile.Fillet, 4, 24, 24, 0)
	add(profile.Cove, 22, 28, 28, 18)
	add(profile.Taper, 150, 24, 36, 0)
	add(profile.Vee, 5, 36, 36, 30)
	add(profile.Bead, 16, 35, 35, 44)
	add(profile.Vee, 5, 36, 36, 30)
	add(profile.Taper, 210, 36, 26, 0)
	add(profile.Fillet, 4, 22, 22, 0)
	add(profile.Bead, 10, 22, 22, 31)
	add(profile.Cove, 30, 26, 26, 16)
	add(profile.Cylinder, 168, 28, 28, 0)
	return profile.Pattern{Length: x, Elements: es}
}

// shot is what a photograph shows of p from x0 to x1, its trace with normal noise of sd mm of radius.
func shot(t *testing.T, name string, p profile.Pattern, x0, x1, sd float64, seed uint64) join.Shot {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	tr := profile.Trace{Length: x1 - x0, ULength: 0.4}
	for x := x0; x <= x1; x += 0.2 {
		d, ok := p.DiameterAt(x)
		if !ok {
			continue
		}
		rad := d/2 + sd*r.NormFloat64()
		tr.Samples = append(tr.Samples, profile.Sample{X: x - x0, R: rad, U: 4 * sd, State: profile.Visible, Sides: [2]float64{rad, rad}})
	}
	out := join.Shot{Name: name, Trace: tr, Cut: [2]bool{x0 > 0, x1 < p.Length}}
	pat, err := fit.Trace(tr, fit.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out.Pattern = pat
	return out
}

func TestOverlappingShotsMakeOnePiece(t *testing.T) {
	p := baluster()
	for seed := range uint64(3) {
		a, b, c := shot(t, "a", p, 0, 290, 0.02, seed), shot(t, "b", p, 210, 520, 0.02, seed+10), shot(t, "c", p, 430, p.Length, 0.02, seed+20)
		j, err := join.Along([]join.Shot{a, b, c}, join.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range []float64{210, 430} {
			if got := j.Seams[i].Shift; math.Abs(got-want) > math.Max(0.1, j.Seams[i].UShift) {
				t.Errorf("seed %d: seam %d lies at %.3f mm (+- %.3f), want %.0f", seed, i+1, got, j.Seams[i].UShift, want)
			}
		}
		if math.Abs(j.Trace.Length-p.Length) > 0.3 {
			t.Errorf("seed %d: the joined trace is %.2f mm long, want %.0f", seed, j.Trace.Length, p.Length)
		}
		if err := j.Pattern.Validate(); err != nil {
			t.Fatal(err)
		}
		if len(j.Pattern.Elements) != len(p.Elements) {
			t.Errorf("seed %d: %d elements, want %d", seed, len(j.Pattern.Elements), len(p.Elements))
			continue
		}
		for i, e := range j.Pattern.Elements {
			w := p.Elements[i]
			if e.Kind != w.Kind || math.Abs(e.X0-w.X0) > 0.5 || math.Abs(e.D0-w.D0) > 0.3 {
				t.Errorf("seed %d: element %d is a %s from %.2f at %.2f, want a %s from %.2f at %.2f", seed, i+1, e.Kind, e.X0, e.D0, w.Kind, w.X0, w.D0)
			}
		}
	}
}

func TestShotsThatCannotBeJoinedAreRefused(t *testing.T) {
	p := baluster()
	other := p.Clone()
	for i := range other.Elements { // another piece: everything thicker by 1.5 mm, and one cove more
		other.Elements[i].D0 += 1.5
		other.Elements[i].D1 += 1.5
	}
	plain := profile.Pattern{Length: 400, Elements: []profile.Element{{Kind: profile.Cylinder, X0: 0, X1: 400, D0: 30, D1: 30}}}
	tests := map[string]struct {
		shots []join.Shot
		opt   join.Options
		word  string
	}{
		"one shot":       {[]join.Shot{shot(t, "a", p, 0, 290, 0.02, 1)}, join.Options{}, "two or more"},
		"no trace":       {[]join.Shot{shot(t, "a", p, 0, 290, 0.02, 1), {Name: "b"}}, join.Options{}, "holds no trace"},
		"plain cylinder": {[]join.Shot{shot(t, "a", plain, 0, 250, 0.02, 1), shot(t, "b", plain, 150, 400, 0.02, 2)}, join.Options{}, "as well as"},
		"other scale":    {[]join.Shot{shot(t, "a", p, 0, 290, 0.02, 1), shot(t, "b", other, 210, 520, 0.02, 2)}, join.Options{Overlap: 80}, "do not agree"},
		"no overlap":     {[]join.Shot{shot(t, "a", p, 0, 62, 0.02, 1), shot(t, "b", p, 560, p.Length, 0.02, 2)}, join.Options{}, ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := join.Along(test.shots, test.opt)
			if !errors.Is(err, join.ErrShots) || !strings.Contains(err.Error(), test.word) {
				t.Errorf("got %v, want an error with %q", err, test.word)
			}
		})
	}
}
