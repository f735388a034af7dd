package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"spindlestick/profile"
	"spindlestick/profile/fit"
)

// show puts a pattern on the bench with the trace that a perfect camera would give.
func show(w *Window, p profile.Pattern) {
	j := railJob()
	j.Measurement.Trace = profile.Trace{Length: p.Length, Samples: p.Curve(0.25)}
	j.Pattern = fit.Read(p, j.Measurement.Trace)
	w.model.load(j, "", false)
}

// limit is a spindle whose middle is as long as a bead is when some call it a swell.
func limit() profile.Pattern {
	return profile.Pattern{Length: 58.6, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 20, D0: 26, D1: 26},
		{Kind: profile.Bead, X0: 20, X1: 38.6, D0: 30, D1: 30, Sagitta: 2.4},
		{Kind: profile.Cylinder, X0: 38.6, X1: 58.6, D0: 26, D1: 26},
	}}
}

func TestTheSecondReadingIsOnePress(t *testing.T) {
	w := bench(t)
	show(w, limit())
	r := newReader(w.model, w.line, w.say, func() {})
	w.model.selectElement(0)
	if r.second.Visible() || !strings.Contains(r.how.Text, "% sure") {
		t.Errorf("a plain cylinder: %q, other reading %q", r.how.Text, r.second.Text)
	}
	w.model.selectElement(1)
	if !strings.HasPrefix(r.second.Text, "or swell") || w.model.shapeWord(1) != "bead ?" {
		t.Fatalf("the other reading is %q, the table says %q", r.second.Text, w.model.shapeWord(1))
	}
	test.Tap(r.second)
	e := w.model.pattern().Elements[1]
	if _, d, _ := e.Mid(); e.Kind != profile.Swell || !close2(d, 34.8, 0.05) {
		t.Errorf("taken: a %s of %.2f mm", e.Kind, d)
	}
	if name := w.model.history.UndoName(); name != "make element 2 a swell" {
		t.Errorf("the step is called %q", name)
	}
	w.model.undo()
	if k := w.model.pattern().Elements[1].Kind; k != profile.Bead {
		t.Errorf("undone: a %s", k)
	}
}

func TestFitAgainFindsTheTrace(t *testing.T) {
	w := bench(t)
	show(w, limit())
	r := newReader(w.model, w.line, w.say, func() {})
	w.model.selectElement(1)
	if err := w.model.edit("spoil", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.SetMid(p, 1, 32) }); err != nil {
		t.Fatal(err)
	}
	test.Tap(r.again)
	if _, d, _ := w.model.pattern().Elements[1].Mid(); !close2(d, 34.8, 0.05) {
		t.Errorf("fitted again to %.2f mm, want 34.8: %s", d, w.status.Text)
	}
}

func TestInsertAndDelete(t *testing.T) {
	w := bench(t)
	r := newReader(w.model, w.line, w.say, func() {})
	w.model.selectElement(2)
	w.model.cursor = 60
	r.doInsert(profile.Vee)
	p := w.model.pattern()
	if len(p.Elements) != 6 || p.Elements[3].Kind != profile.Vee || w.model.selected != 3 || p.Length != 120 {
		t.Fatalf("inserted: %d elements, selected %d, %s", len(p.Elements), w.model.selected, w.status.Text)
	}
	test.Tap(r.remove)
	if p = w.model.pattern(); len(p.Elements) != 5 || p.Length != 120 {
		t.Errorf("deleted: %d elements, %v mm", len(p.Elements), p.Length)
	}
}

func TestTiesAreTakenAndGivenUp(t *testing.T) {
	w := bench(t)
	p := limit()
	p.Elements = append(p.Elements, p.Elements[1], p.Elements[2])
	p.Elements[3].X0, p.Elements[3].X1, p.Elements[3].Sagitta = 58.6, 77.2, 2.42
	p.Elements[4].X0, p.Elements[4].X1, p.Length = 77.2, 97.2, 97.2
	show(w, p)
	l := newTieList(w.model, w.line, w.say)
	l.refresh()
	if len(l.shown) == 0 || !strings.Contains(l.shown[0], "mirror image") && !strings.Contains(l.shown[0], "the same") {
		t.Fatalf("offered: %q", l.shown)
	}
	if len(w.model.pattern().Ties) != 0 {
		t.Fatal("a tie is in force unasked")
	}
	l.take(profile.Offers(w.model.pattern())[0])
	if err := w.model.edit("resize", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.SetMid(p, 1, 33) }); err != nil {
		t.Fatal(err)
	}
	if _, d, _ := w.model.pattern().Elements[3].Mid(); !close2(d, 33, 1e-6) {
		t.Errorf("the twin's crest is %.3f", d)
	}
	l.giveUp(0)
	if len(w.model.pattern().Ties) != 0 || w.model.history.UndoName() != "give up a tie" {
		t.Errorf("%d ties, the step is called %q", len(w.model.pattern().Ties), w.model.history.UndoName())
	}
}

// The sizes on the sheets are round, the bench keeps what was measured, and the choice can be undone.
func TestWorkshopSizesAreAView(t *testing.T) {
	w := bench(t)
	show(w, limit())
	r := newRounder(w)
	r.choice.SetSelected("1 mm")
	if x := w.model.workshop().Elements[1].X1; x != 39 {
		t.Errorf("the sheets have the station at %v", x)
	}
	if x := w.model.pattern().Elements[1].X1; x != 38.6 {
		t.Errorf("the bench has the station at %v", x)
	}
	if !strings.Contains(r.note.Text, "0.40 mm") || !strings.Contains(r.text, "38.60 →    39.00") {
		t.Errorf("the report: %q, %q", r.note.Text, r.text)
	}
	if notes := w.sheetOptions(*w.sheetChoice()).Notes; len(notes) != 1 || !strings.Contains(notes[0], "1 mm") {
		t.Errorf("the sheets say %q", notes)
	}
	w.model.undo()
	if w.model.job.Rounding != profile.AsMeasured || r.choice.SelectedIndex() != 0 || r.note.Visible() {
		t.Errorf("undone: %q, chosen %d", w.model.job.Rounding, r.choice.SelectedIndex())
	}
}

func TestABrokenEndIsExtendedByHand(t *testing.T) {
	w := bench(t)
	e := newEnds(w)
	e.length.SetText("12mm")
	e.d.SetText("9mm")
	test.Tap(e.addNear)
	p := w.model.pattern()
	if p.Length != 132 || p.Elements[0].D0 != 9 || p.Elements[0].State != profile.Inferred {
		t.Errorf("%v mm, %+v: %s", p.Length, p.Elements[0], w.status.Text)
	}
	e.length.SetText("long")
	test.Tap(e.addFar)
	if !strings.Contains(w.status.Text, "not a length") {
		t.Errorf("after nonsense the status says %q", w.status.Text)
	}
	w.model.undo()
	if w.model.pattern().Length != 120 {
		t.Error("the step was not undone")
	}
}
