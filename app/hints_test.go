package app

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

// walkObjects hands every object of a tree to f: containers, and what widgets are made of.
func walkObjects(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	f(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			walkObjects(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			walkObjects(c, f)
		}
	}
}

// TestTheStepsControlsHaveHints: pointer and keyboard bring up the hint, and leaving brings the last message back.
func TestTheStepsControlsHaveHints(t *testing.T) {
	w := bench(t)
	n := 0
	for _, s := range []step{stepPhoto, stepScale, stepOutline, stepPattern, stepStick} {
		w.showStep(s)
		walkObjects(w.panels[s], func(o fyne.CanvasObject) {
			hint := ""
			switch o := o.(type) {
			case *hintButton:
				hint = o.hint
			case *hintEntry:
				hint = o.hint
			case *hintSelect:
				hint = o.hint
			case *hintCheck:
				hint = o.hint
			default:
				return
			}
			n++
			if hint == "" {
				t.Errorf("step %s: a %T has no hint", s.title(), o)
				return
			}
			w.say("the last message")
			h := o.(desktop.Hoverable)
			h.MouseIn(mouse(1, 1))
			if w.status.Text != hint {
				t.Errorf("under the pointer the line says %q, want %q", w.status.Text, hint)
			}
			h.MouseOut()
			if w.status.Text != "the last message" {
				t.Errorf("after it the line says %q", w.status.Text)
			}
			f := o.(fyne.Focusable)
			f.FocusGained()
			if w.status.Text != hint {
				t.Errorf("with the keyboard the line says %q, want %q", w.status.Text, hint)
			}
			f.FocusLost()
		})
	}
	if n < 25 {
		t.Errorf("only %d controls were looked at", n)
	}
}

func TestAMessageIsNotLostUnderAHint(t *testing.T) {
	w := bench(t)
	b := w.line.button("x", "what it does", func() { w.say("done") })
	w.win.SetContent(b)
	b.MouseIn(mouse(1, 1))
	test.Tap(b)
	if w.status.Text != "done" {
		t.Errorf("after the press the line says %q", w.status.Text)
	}
	b.MouseOut()
	if w.status.Text != "done" {
		t.Errorf("leaving the button takes the message away: %q", w.status.Text)
	}
}

// TestHintControlsAreStillTheirKind: what tells its hint keeps what the toolkit's own control does.
func TestHintControlsAreStillTheirKind(t *testing.T) {
	w := bench(t)
	e := w.line.entry("hint")
	w.win.SetContent(e)
	w.win.Canvas().Focus(e)
	test.Type(e, "35mm")
	if e.Text != "35mm" || w.status.Text != "hint" {
		t.Errorf("typed %q, the line says %q", e.Text, w.status.Text)
	}
	got := ""
	c := w.line.choice([]string{"a", "b"}, "hint", func(s string) { got = s })
	c.SetSelected("b")
	on := false
	k := w.line.check("words", "hint", func(b bool) { on = b })
	w.win.SetContent(k)
	k.Tapped(&fyne.PointEvent{Position: fyne.NewPos(8, k.Size().Height/2)})
	if got != "b" || !on {
		t.Errorf("chose %q, ticked %v", got, on)
	}
}
