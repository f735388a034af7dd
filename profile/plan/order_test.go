package plan_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// TestOrderOfWork: the ten steps as the trade takes them (common practice, no source).
func TestOrderOfWork(t *testing.T) {
	want := [][]string{
		{"pommel first", "turned round", "another"}, {"rough", "cylinder", "away from the pommel"}, {"mark", "story stick", "hook end"},
		{"size", "parting tool", "calipers"}, {"v's"}, {"beads"}, {"coves"}, {"fillets", "pommel down to its fillet"},
		{"tapers", "large to small", "straightedge"}, {"rest off", "sand", "crisp details first", "coves and broad parts"},
	}
	got := planned(t, leg(), plan.Options{}).Steps
	if len(got) != len(want) {
		t.Fatalf("%d steps", len(got))
	}
	for i, s := range got {
		for _, words := range want[i] {
			if s.No != i+1 || !strings.Contains(strings.ToLower(s.Title), words) {
				t.Errorf("step %d is %q, want %q in it", s.No, s.Title, words)
			}
		}
	}
}

// TestEveryShapeIsCutOnceInItsStep, the pommel in the first and down to its fillet in the eighth.
func TestEveryShapeIsCutOnceInItsStep(t *testing.T) {
	want := map[profile.Kind][]int{
		profile.Square: nil, profile.Shoulder: {1, 8}, profile.Vee: {5}, profile.Bead: {6}, profile.HalfBead: {6}, profile.Cove: {7}, profile.HalfCove: {7},
		profile.Ogee: {7}, profile.Fillet: {8}, profile.Taper: {9}, profile.Cylinder: {9}, profile.Swell: {9},
	}
	if len(want) != len(profile.Kinds()) {
		t.Fatal("a kind has no step")
	}
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		got, err := plan.Make(p, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		cut := map[int][]int{}
		for _, s := range got.Steps[:9] {
			for _, item := range s.Items {
				cut[item.Element] = append(cut[item.Element], s.No)
			}
		}
		for i, e := range p.Elements {
			w := want[e.Kind]
			if len(cut[i]) != len(w) || len(w) > 0 && cut[i][0] != w[0] || len(w) > 1 && cut[i][1] != w[1] {
				t.Errorf("%s is cut in steps %v, want %v", e.Kind, cut[i], w)
			}
		}
		if n := len(got.Steps[9].Items); n != len(p.Elements) {
			t.Errorf("%d of %d elements are sanded", n, len(p.Elements))
		}
	})
}

// TestCutsRunDownhill: every pass falls, or stays level, all the way, and the passes of an element cover it.
func TestCutsRunDownhill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		got, err := plan.Make(p, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range got.Steps[:9] {
			for _, item := range s.Items {
				e := p.Elements[item.Element]
				covered := 0.0
				for _, pass := range item.Passes {
					covered += math.Abs(pass.To - pass.From)
					downhill(t, e, pass)
				}
				if math.Abs(covered-e.Length()) > 1e-6 {
					t.Errorf("%s: %v of %v mm are cut", e.Kind, covered, e.Length())
				}
			}
		}
	})
}

func downhill(t *rapid.T, e profile.Element, pass plan.Pass) {
	const hair = 0.05 // mm on the diameter: what a crest or bottom next to an end may keep of its rise
	last := e.At(pass.From)
	for i := 1; i <= 50; i++ {
		d := e.At(pass.From + (pass.To-pass.From)*float64(i)/50)
		if d > last+hair {
			t.Fatalf("%s: the pass from %.2f to %.2f rises to %.3f from %.3f", e.Kind, pass.From, pass.To, d, last)
		}
		last = d
	}
}

// TestDirections: beads from the crest to both sides, coves and V's from both rims to the bottom, tapers from large to
// small (common practice; coves: Milton and Wohlers, exercise A-I-5).
func TestDirections(t *testing.T) {
	for _, c := range []struct {
		e    profile.Element
		want [][2]float64
	}{
		{curved(profile.Bead, 10, 20, 20, 26), [][2]float64{{5, 0}, {5, 10}}},
		{curved(profile.Cove, 10, 20, 20, 15), [][2]float64{{0, 5}, {10, 5}}},
		{vee(6, 20, 15), [][2]float64{{0, 3}, {6, 3}}},
		{straight(profile.Taper, 50, 20, 30), [][2]float64{{50, 0}}},
		{straight(profile.Taper, 50, 30, 20), [][2]float64{{0, 50}}},
		{curved(profile.Swell, 80, 20, 20, 24), [][2]float64{{40, 0}, {40, 80}}},
		{half(profile.HalfCove, 10, 30, 20, -0.5), [][2]float64{{0, 10}}},
	} {
		got := planned(t, build(c.e), plan.Options{}).Steps
		var passes []plan.Pass
		for _, s := range got[:9] {
			for _, item := range s.Items {
				passes = append(passes, item.Passes...)
			}
		}
		if len(passes) != len(c.want) {
			t.Errorf("%s: %+v", c.e.Kind, passes)
			continue
		}
		for i, w := range c.want {
			within(t, string(c.e.Kind)+" from", passes[i].From, w[0], 1e-6)
			within(t, string(c.e.Kind)+" to", passes[i].To, w[1], 1e-6)
		}
	}
}

func TestSandingBeginsWithCrispDetails(t *testing.T) {
	p := leg()
	stage := plan.Crisp
	for _, item := range planned(t, p, plan.Options{}).Steps[9].Items {
		s := plan.StageOf(p.Elements[item.Element].Kind)
		if s < stage {
			t.Errorf("%s is sanded too late", p.Elements[item.Element].Kind)
		}
		stage = s
	}
	if stage != plan.ByHand {
		t.Error("the square is not last, by hand")
	}
}
