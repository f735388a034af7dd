package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// measured is a trace along the rail: u and the sides' difference the same everywhere, mm.
func measured(u, shared, apart float64) profile.Trace {
	t := profile.Trace{Length: 120}
	for x := 0.0; x <= 120; x++ {
		t.Samples = append(t.Samples, profile.Sample{X: x, R: 7, U: u, Shared: shared, State: profile.Visible, Sides: [2]float64{7, 7 - apart}})
	}
	return t
}

func TestAWeakNumberComesWithItsReason(t *testing.T) {
	test.NewTempApp(t)
	p := rail()
	p.Elements[0].U.D0 = 0.1
	p.Elements[1].U.Mid = 0.6
	p.Elements[2].State = profile.Hidden
	p.Elements[3].State = profile.Damaged
	for name, c := range map[string]struct {
		trace profile.Trace
		want  string
	}{
		"sides differ": {measured(0.6, 0, 0.5), "the two sides differ"},
		"scale":        {measured(0.6, 0.5, 0), "scale, camera or height"},
		"few points":   {measured(0.6, 0.1, 0.1), "few clear points"},
		"none":         {profile.Trace{}, "hardly a point"},
	} {
		w := weaknessOf(p, c.trace, 1, profile.MM)
		if w.word != "weak" || !strings.Contains(w.why, c.want) || !strings.HasPrefix(w.why, "±0.60 mm") {
			t.Errorf("%s: %+v", name, w)
		}
	}
	if w := weaknessOf(p, measured(0.1, 0, 0), 0, profile.MM); w.word != "" {
		t.Errorf("a good number is called %q", w.word)
	}
	for i, want := range map[int]string{2: "hidden", 3: "damaged"} {
		if w := weaknessOf(p, profile.Trace{}, i, profile.MM); w.word != want || w.why == "" {
			t.Errorf("element %d: %+v", i+1, w)
		}
	}
	p.Elements[0].Residual = 0.4
	if w := weaknessOf(p, profile.Trace{}, 0, profile.MM); !strings.Contains(w.why, "0.40 mm off") {
		t.Errorf("a shape that does not fit: %+v", w)
	}
}

func TestWeakNumbersShowInTableEditorAndAdvice(t *testing.T) {
	w := bench(t)
	weaken := func(p profile.Pattern) (profile.Pattern, error) {
		p.Elements = append([]profile.Element(nil), p.Elements...)
		p.Elements[1].U.Mid, p.Elements[3].State = 0.6, profile.Hidden
		return p, nil
	}
	a := w.adviceFor(stepPattern)
	if a.action != "Stick ›" {
		t.Errorf("with good numbers the pattern leads to %q", a.action)
	}
	if err := w.model.edit("x", "", weaken); err != nil {
		t.Fatal(err)
	}
	cols := columns()
	if got := cols[len(cols)-1].cell(1, w.model.pattern().Elements[1], w.model); got != "weak" {
		t.Errorf("the table says %q", got)
	}
	a = w.adviceFor(stepPattern)
	if !strings.HasPrefix(a.text, "2 elements") || a.action != "Next weak one" {
		t.Errorf("the advice is %+v", a)
	}
	e := newEditor(w.model, w.say, func() {})
	for _, want := range []int{1, 3, 1} {
		a.do()
		if w.model.selected != want {
			t.Errorf("element %d is selected, want %d", w.model.selected, want)
		}
	}
	if !e.why.Visible() || !strings.HasPrefix(e.why.Text, "weak: ±0.60 mm") {
		t.Errorf("the editor says %q", e.why.Text)
	}
	w.model.selectElement(0)
	if e.why.Visible() {
		t.Error("the editor warns of a good element")
	}
	f := w.tracks.frame()
	h := hand{w.tracks}
	h.press(f.scope.x(100), f.bands.stick.top+20)
	h.release(f.scope.x(100), f.bands.stick.top+20)
	w.tracks.MouseMoved(mouse(float32(f.scope.x(101)), float32(f.bands.stick.top+20)))
	if !strings.Contains(w.status.Text, "hidden: ") {
		t.Errorf("the status line says %q", w.status.Text)
	}
}

func TestErrorsLeadToTheStepThatPutsThemRight(t *testing.T) {
	outside := errors.New("told from outside")
	for _, c := range []struct {
		err    error
		step   step
		action string
	}{
		{fmt.Errorf("measure: %w", view.ErrNoScale), stepScale, "Mark two graduations…"},
		{fmt.Errorf("measure: %w", view.ErrSides), stepOutline, "Mark the two ends…"},
		{outside, stepOutline, "Mark the two ends…"},
		{errors.New("is not a picture"), stepPhoto, ""},
	} {
		w := emptyBench(t, &failingTracer{err: c.err})
		w.services.Fault = func(err error) Fault {
			if errors.Is(err, outside) {
				return FaultOutline
			}
			return FaultPhoto
		}
		path := filepath.Join(t.TempDir(), "dark.jpg")
		if err := os.WriteFile(path, []byte("pixels"), 0o644); err != nil {
			t.Fatal(err)
		}
		w.open(path)
		if w.steps.shown != c.step {
			t.Errorf("%v: step %s is shown, want %s", c.err, w.steps.shown.title(), c.step.title())
		}
		r := w.advices[c.step]
		if r.text.Text != c.err.Error() || !r.icon.Visible() {
			t.Errorf("%v: the step says %q", c.err, r.text.Text)
		}
		if r.button.Text != c.action || r.button.Visible() != (c.action != "") {
			t.Errorf("%v: the step offers %q", c.err, r.button.Text)
		}
	}
}

// TestEveryStepLeadsOn: on every bench each step says something, and its action leads somewhere.
func TestEveryStepLeadsOn(t *testing.T) {
	for name, w := range map[string]*Window{"empty": emptyBench(t, &blindTracer{}), "traced": bench(t)} {
		for s := step(0); s < stepCount; s++ {
			a := w.adviceFor(s)
			if a.text == "" || (a.action == "") != (a.do == nil) {
				t.Errorf("%s, %s: %+v", name, s.title(), a)
			}
			if a.do != nil {
				w.showStep(s)
				a.do()
				if w.steps.shown == s {
					t.Errorf("%s, %s: %q leads nowhere", name, s.title(), a.action)
				}
			}
		}
	}
}
