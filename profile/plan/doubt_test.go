package plan_test

import (
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// TestDoubtsAreNamed: what was not seen whole, and what is not known to a quarter of a millimetre, stands in the plan
// before the blank; a thin place among it says so.
func TestDoubtsAreNamed(t *testing.T) {
	p := leg()
	if got := planned(t, p, plan.Options{}); len(got.Doubts) > 0 || strings.Contains(text(t, got), "not certain") {
		t.Errorf("a drawing is certain, the plan doubts %+v", got.Doubts)
	}
	want := map[int]profile.State{2: profile.Hidden, 4: profile.Damaged, 6: profile.Visible, 7: profile.Inferred}
	for i, s := range want {
		p.Elements[i].State = s
	}
	p.Elements[6].U.D1 = 0.26
	p.Elements[8].U.D0 = 0.24
	thin := &p.Elements[2]
	thin.D0, thin.D1 = 12, 12
	got := planned(t, p, plan.Options{})
	if len(got.Doubts) != len(want) {
		t.Errorf("%+v", got.Doubts)
	}
	for _, d := range got.Doubts {
		if want[d.Element] != d.State {
			t.Errorf("element %d is %s, want %s", d.Element, d.State, want[d.Element])
		}
	}
	words := text(t, got)
	for _, s := range []string{"What is not certain", "hidden in the photograph", "damaged: what it was is not known", "seen, but not known well", "follows from what is beside it", "from the hook end, not certain)"} {
		if !strings.Contains(plain(words), strings.ToLower(s)) {
			t.Errorf("the plan does not say %q", s)
		}
	}
	if n := strings.Count(words, ", not certain  "); n != cutsIn(got, want) || n == 0 {
		t.Errorf("%d sizing cuts are marked, %d lie in what is not certain", n, cutsIn(got, want))
	}
	if strings.Index(words, "What is not certain") > strings.Index(words, "\nBlank\n") {
		t.Error("the doubts come after the blank")
	}
}

// cutsIn counts the sizing cuts in some elements.
func cutsIn(p plan.Plan, elements map[int]profile.State) int {
	n := 0
	for _, c := range p.Cuts {
		if _, ok := elements[c.Element]; ok {
			n++
		}
	}
	return n
}
