package app

import (
	"strings"
	"testing"
)

func TestThePlanInShort(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.planner.spacing.SetText("100")
	for _, want := range []string{"Blank 24.38 mm square", "settings of the calipers", "rpm", "The opening beside the thinnest place is 88.00 mm"} {
		if !strings.Contains(w.planner.facts.Text, want) {
			t.Errorf("%q does not say %q", w.planner.facts.Text, want)
		}
	}
	for field, text := range map[*hintEntry]string{w.planner.spacing: "wide", w.planner.top: "fast", w.planner.turned: "wet"} {
		before := field.Text
		field.SetText(text)
		if strings.Contains(w.planner.facts.Text, "Blank") {
			t.Errorf("with %q the plan says %q", text, w.planner.facts.Text)
		}
		field.SetText(before)
	}
	if n := len(cautionTexts()); n < 12 {
		t.Errorf("%d cautions", n)
	}
}
