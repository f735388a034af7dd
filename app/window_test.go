package app

import (
	"bytes"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/app/job"
	"spindlestick/profile"
)

func TestAPhotoThatCannotBeTracedStaysUpWithTheReason(t *testing.T) {
	tracer := &blindTracer{}
	w := emptyBench(t, tracer)
	path := filepath.Join(t.TempDir(), "dark.jpg")
	if err := os.WriteFile(path, []byte("pixels"), 0o644); err != nil {
		t.Fatal(err)
	}
	w.open(path)
	if w.status.Text != errBlind.Error() {
		t.Errorf("the status says %q", w.status.Text)
	}
	if !w.picture.Visible() || w.picture.photo == nil {
		t.Error("the photograph is not shown")
	}
	// The user points at the two ends: the piece is looked for again, with them.
	w.ask("", func(a, b r2.Vec) {
		w.model.job.Hints.Axis = &[2]r2.Vec{a, b}
		w.trace(w.model.job.Photo, w.model.job.PhotoName, w.model.job.Hints)
	})
	press := func(x, y float32) {
		e := mouse(x, y)
		w.picture.MouseDown(e)
		w.picture.MouseUp(e)
	}
	press(100, 200)
	press(400, 210)
	if tracer.sights != 2 {
		t.Errorf("looked %d times, want again after the marks", tracer.sights)
	}
	if a := w.model.job.Hints.Axis; a == nil || a[0].X >= a[1].X {
		t.Errorf("the ends are %v", a)
	}
}

func TestSaveAndReopenKeepsAnEdit(t *testing.T) {
	w := bench(t)
	if err := w.model.edit("make it a swell", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.SetKind(p, 2, profile.Swell) }); err != nil {
		t.Fatal(err)
	}
	if !w.model.dirty() || !strings.HasPrefix(w.win.Title(), "•") {
		t.Errorf("title %q does not show unsaved work", w.win.Title())
	}
	w.save()
	if w.model.dirty() {
		t.Error("still dirty after saving: " + w.status.Text)
	}
	j, err := job.Open(w.model.path)
	if err != nil {
		t.Fatal(err)
	}
	if j.Pattern.Elements[2].Kind != profile.Swell || !bytes.Equal(j.Photo, railJob().Photo) {
		t.Error("the file does not hold the edit and the photograph")
	}
}

func TestTheEditorAppliesAnyUnit(t *testing.T) {
	w := bench(t)
	w.model.selectElement(0)
	e := newEditor(w.model, w.say, func() {})
	e.d0.SetText("5/8")
	e.d0.OnSubmitted("5/8")
	if got := w.model.pattern().Elements[0].D1; !close2(got, 15.875, 1e-9) {
		t.Errorf("5/8 in sets %v mm", got)
	}
	e.to.OnSubmitted("3.2cm")
	if got := w.model.pattern().Elements[0].X1; !close2(got, 32, 1e-9) {
		t.Errorf("3.2cm moves the station to %v mm", got)
	}
	e.to.OnSubmitted("nonsense")
	if !strings.Contains(w.status.Text, "not a length") || e.to.Text != "32.00" {
		t.Errorf("after nonsense the status says %q and the field %q", w.status.Text, e.to.Text)
	}
}

func TestSplitAndMergeFromTheEditor(t *testing.T) {
	w := bench(t)
	e := newEditor(w.model, w.say, func() {})
	w.tracks.pick(w.tracks.scope.x(60))
	test.Tap(e.split)
	p := w.model.pattern()
	if len(p.Elements) != 5 || !close2(p.Elements[2].X1, 60, 1e-6) {
		t.Fatalf("split into %d elements at %v", len(p.Elements), p.Elements[2].X1)
	}
	test.Tap(e.merge)
	if got := len(w.model.pattern().Elements); got != 4 {
		t.Errorf("merged into %d elements", got)
	}
	w.model.undo()
	w.model.undo()
	if len(w.model.pattern().Elements) != 4 || w.model.pattern().Elements[2].X1 != 90 {
		t.Error("two undos do not give the first pattern back")
	}
}

func TestChangingTheKindIsOneNamedStep(t *testing.T) {
	w := bench(t)
	e := newEditor(w.model, w.say, func() {})
	w.model.selectElement(1)
	e.kind.chosen(profile.Cove)
	if got := w.model.pattern().Elements[1].Kind; got != profile.Cove {
		t.Fatalf("the element is a %s", got)
	}
	if got := w.model.history.UndoName(); got != "make element 2 a cove" {
		t.Errorf("undo is named %q", got)
	}
	if w.menus.undo.Label != "Undo make element 2 a cove" {
		t.Errorf("the menu says %q", w.menus.undo.Label)
	}
}

func TestUnitsShowEverywhere(t *testing.T) {
	w := bench(t)
	e := newEditor(w.model, w.say, func() {})
	w.model.selectElement(3)
	w.setUnit(profile.Inch)
	if e.d0.Text != "0.472" {
		t.Errorf("12 mm in inches reads %q", e.d0.Text)
	}
	w.setUnit(profile.Fraction)
	if e.d0.Text != "15/32" {
		t.Errorf("12 mm in fractions reads %q", e.d0.Text)
	}
}

func TestTheStepsSayWhatIsMissing(t *testing.T) {
	w := emptyBench(t, &blindTracer{})
	if text, done := w.model.state(stepPhoto); done || text != "open one" || w.model.next() != stepPhoto {
		t.Errorf("an empty bench: photo %q done %v, next %d", text, done, w.model.next())
	}
	w = bench(t)
	if text, done := w.model.state(stepPattern); !done || text != "4 elements" {
		t.Errorf("a traced bench: %q", text)
	}
}

func TestUnsavedWorkIsAskedAbout(t *testing.T) {
	w := bench(t)
	done := false
	w.whenSafe(func() { done = true })
	if !done {
		t.Fatal("a clean job is asked about")
	}
	done = false
	_ = w.model.edit("x", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.MoveStation(p, 1, 31) })
	w.whenSafe(func() { done = true })
	if done || w.win.Canvas().Overlays().Top() == nil {
		t.Error("unsaved work is given up without a question")
	}
	w.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("Esc does not close the question")
	}
}

func TestWriteFileNeverTouchesWhatItCannotReplace(t *testing.T) {
	w := bench(t)
	path := filepath.Join(t.TempDir(), "stick.pdf")
	w.writeSheetsTo(path, sheetChoice{show: "stick", paper: "a4", ending: ".pdf"})
	data, err := os.ReadFile(path)
	if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Fatalf("no PDF was written: %v, %s", err, w.status.Text)
	}
	w.writeSheetsTo(path, sheetChoice{show: "stick", paper: "none", ending: ".pdf"})
	again, _ := os.ReadFile(path)
	if !bytes.Equal(data, again) {
		t.Error("a failed export changed the file")
	}
}

func TestThePreviewIsThePageThatPrints(t *testing.T) {
	w := bench(t)
	w.showStep(stepStick)
	p := w.preview
	if !p.content.Visible() || p.picture.Image == nil {
		t.Fatal("no page is shown: " + w.status.Text)
	}
	// A4 lies across for a stick: 297 x 210 mm (ISO 216).
	b := p.picture.Image.Bounds()
	if got := float64(b.Dx()) / float64(b.Dy()); !close2(got, 297.0/210, 0.01) {
		t.Errorf("the page is %d x %d px", b.Dx(), b.Dy())
	}
	if !p.back.Disabled() || p.on.Disabled() {
		t.Error("the first of several pages offers the wrong way")
	}
	first := p.picture.Image
	test.Tap(p.on)
	if p.label.Text[:6] != "page 2" || p.picture.Image == first {
		t.Errorf("after leafing on: %s", p.label.Text)
	}
}

func TestTheKindChooserShowsEveryShape(t *testing.T) {
	w := bench(t)
	w.model.selectElement(1)
	var got profile.Kind
	c := newKindChooser(func(k profile.Kind) { got = k })
	w.win.SetContent(c.content)
	c.show(profile.Bead)
	test.Tap(c.button)
	if c.pop == nil || !c.pop.Visible() {
		t.Fatal("no shapes are shown")
	}
	items := c.pop.Content.(*fyne.Container).Objects
	if len(items) != len(profile.Kinds()) {
		t.Fatalf("%d shapes of %d kinds", len(items), len(profile.Kinds()))
	}
	test.Tap(items[7].(*fyne.Container).Objects[0].(*widget.Button))
	if got != profile.Kinds()[7] || c.pop.Visible() {
		t.Errorf("chose %q", got)
	}
}

// TestShapesDiffer: no two kinds are drawn alike, and each is a sound pattern.
func TestShapesDiffer(t *testing.T) {
	test.NewTempApp(t)
	seen := map[string]profile.Kind{}
	for _, k := range profile.Kinds() {
		if err := typical(k).Validate(); err != nil {
			t.Errorf("%s: %v", k, err)
		}
		key := string(drawShape(k).(*image.RGBA).Pix)
		if other, ok := seen[key]; ok {
			t.Errorf("%s and %s are drawn alike", k, other)
		}
		seen[key] = k
	}
}

func TestTheTableGoesToTheClipboard(t *testing.T) {
	w := bench(t)
	w.copyTable()
	lines := strings.Split(strings.TrimSpace(w.app.Clipboard().Content()), "\n")
	if len(lines) != 5 || strings.Count(lines[2], "\t") != len(columns())-1 || !strings.Contains(lines[2], "bead\t30.00\t42.00\t16.00\t22.00\t16.00") {
		t.Errorf("the clipboard holds %q", lines)
	}
}
