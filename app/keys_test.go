package app

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
)

func typed(name fyne.KeyName) *fyne.KeyEvent { return &fyne.KeyEvent{Name: name} }

func TestDeleteTakesTheSelectedElementOut(t *testing.T) {
	w := bench(t)
	w.tracks.TypedKey(typed(fyne.KeyDelete))
	if n := len(w.model.pattern().Elements); n != 4 {
		t.Fatalf("with nothing selected %d elements are left", n)
	}
	w.model.selectElement(1)
	w.tracks.TypedKey(typed(fyne.KeyDelete))
	p := w.model.pattern()
	if len(p.Elements) != 3 || p.Length != 120 {
		t.Errorf("%d elements over %v mm are left, want 3 over 120", len(p.Elements), p.Length)
	}
	if got := w.model.history.UndoName(); got != "delete element 2" {
		t.Errorf("undo is named %q", got)
	}
	w.model.undo()
	if len(w.model.pattern().Elements) != 4 {
		t.Error("one undo does not bring it back")
	}
}

func TestEnterPressesTheMainButtonOfAQuestion(t *testing.T) {
	w := bench(t)
	done := 0
	yes := widget.NewButton("yes", func() { done++ })
	yes.Importance = widget.HighImportance
	q := w.newQuestion("title", widget.NewLabel("content"), widget.NewButton("no", nil), yes)
	w.win.Canvas().OnTypedKey()(typed(fyne.KeyReturn))
	if done != 1 {
		t.Errorf("Enter pressed the button %d times", done)
	}
	w.win.Canvas().OnTypedKey()(typed(fyne.KeyEscape))
	if q.open() || done != 1 {
		t.Error("Esc does not close the question, or presses its button")
	}
	if w.win.Canvas().OnTypedKey() != nil {
		t.Error("keys still go to the closed question")
	}
}

func TestEscapeLeavesAFieldThatIsAskedFor(t *testing.T) {
	w := bench(t)
	entry := w.line.entry("")
	w.askText("how long", entry, func() error { return nil })
	if w.win.Canvas().Focused() != entry {
		t.Fatal("the field does not have the keyboard")
	}
	entry.TypedKey(typed(fyne.KeyEscape))
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("Esc in the field does not close the question")
	}
}

func TestEscapeClosesTheShapesAndTheFileDialog(t *testing.T) {
	w := bench(t)
	w.model.selectElement(1)
	c := newKindChooser(nil)
	w.win.SetContent(c.content)
	c.show("bead")
	test.Tap(c.button)
	w.win.Canvas().OnTypedKey()(typed(fyne.KeyEscape))
	if c.pop.Visible() {
		t.Error("Esc leaves the shapes open")
	}
	w.choosePhoto()
	if w.win.Canvas().Overlays().Top() == nil {
		t.Fatal("no dialog is open")
	}
	w.win.Canvas().OnTypedKey()(typed(fyne.KeyEscape))
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("Esc leaves the file dialog open")
	}
	if w.win.Canvas().OnTypedKey() != nil {
		t.Error("keys still go to the closed dialog")
	}
}

func TestEveryStepHasItsKey(t *testing.T) {
	w := bench(t)
	seen := map[step]bool{}
	for _, menu := range w.menus.main.Items {
		for _, item := range menu.Items {
			s, ok := item.Shortcut.(*desktop.CustomShortcut)
			if !ok || s.Modifier != fyne.KeyModifierAlt {
				continue
			}
			item.Action()
			seen[w.steps.shown] = true
		}
	}
	if len(seen) != int(stepCount) {
		t.Errorf("keys lead to %d of %d steps", len(seen), stepCount)
	}
}

// TestMenusDoNotStealFromFields: Ctrl+Z, Ctrl+C and their like stand in no menu, so a field keeps them.
func TestMenusDoNotStealFromFields(t *testing.T) {
	w := bench(t)
	for _, menu := range w.menus.main.Items {
		for _, item := range menu.Items {
			s, ok := item.Shortcut.(*desktop.CustomShortcut)
			if !ok || s.Modifier != fyne.KeyModifierShortcutDefault {
				continue
			}
			switch s.KeyName {
			case fyne.KeyZ, fyne.KeyY, fyne.KeyX, fyne.KeyC, fyne.KeyV, fyne.KeyA:
				t.Errorf("%q takes Ctrl+%s", item.Label, s.KeyName)
			}
		}
	}
}

// TestTabPassesEachStepOnce: the ground beside a step's name takes presses, but no keyboard.
func TestTabPassesEachStepOnce(t *testing.T) {
	w := bench(t)
	n := 0
	walkObjects(w.steps.content, func(o fyne.CanvasObject) {
		if _, ok := o.(fyne.Focusable); ok {
			n++
		}
	})
	if n != int(stepCount) {
		t.Errorf("Tab stops %d times on %d steps", n, stepCount)
	}
	walkObjects(w.steps.content, func(o fyne.CanvasObject) {
		if p, ok := o.(*pad); ok {
			p.MouseIn(mouse(1, 1))
			if w.status.Text != p.hint || p.hint == "" {
				t.Errorf("over the ground the line says %q", w.status.Text)
			}
			p.MouseOut()
			test.Tap(p)
		}
	})
	if w.steps.shown != stepCopies {
		t.Errorf("after pressing all grounds step %s is shown", w.steps.shown.title())
	}
}

// TestEscapeAfterAVainDragUndoesNothing: a drag that could change nothing leaves the steps before it alone.
func TestEscapeAfterAVainDragUndoesNothing(t *testing.T) {
	w := bench(t)
	if err := w.model.edit("earlier", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.MoveStation(p, 3, 80) }); err != nil {
		t.Fatal(err)
	}
	w.model.selectElement(1)
	f := w.tracks.frame()
	crest := f.handles()[2]
	h := hand{w.tracks}
	h.press(crest.x, f.profileY(crest.d/2))
	h.move(crest.x, f.profileY(crest.d/2), crest.x, f.profileY(400)) // no arc reaches that far
	vain := w.model.history.UndoName() == "earlier"
	w.tracks.TypedKey(typed(fyne.KeyEscape))
	if got := w.model.pattern().Elements[2].X1; got != 80 {
		t.Errorf("the earlier step was undone (vain %v): the station stands at %v", vain, got)
	}
}
