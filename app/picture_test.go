package app

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"gonum.org/v1/gonum/spatial/r2"
)

// along drags over the photograph from one screen position to another.
func along(p *picture, x0, y0, x1, y1 float32) {
	p.MouseDown(mouse(x0, y0))
	const moves = 8
	for i := 1; i <= moves; i++ {
		w := float32(i) / moves
		p.Dragged(&fyne.DragEvent{
			PointEvent: fyne.PointEvent{Position: fyne.NewPos(x0+w*(x1-x0), y0+w*(y1-y0))}, Dragged: fyne.NewDelta((x1-x0)/moves, (y1-y0)/moves),
		})
	}
	p.MouseUp(mouse(x1, y1))
	p.DragEnd()
}

func TestADragAlongTheRuleSetsBothMarks(t *testing.T) {
	w := bench(t)
	w.markRule()
	from, to := w.picture.at(fyne.NewPos(100, 200)), w.picture.at(fyne.NewPos(400, 230))
	along(w.picture, 100, 200, 400, 230)
	if w.win.Canvas().Overlays().Top() == nil {
		t.Fatal("the distance is not asked for")
	}
	entry, ok := w.win.Canvas().Focused().(*hintEntry)
	if !ok {
		t.Fatalf("the keyboard is at %T", w.win.Canvas().Focused())
	}
	entry.SetText("300 mm")
	entry.OnSubmitted(entry.Text)
	rule := w.model.job.Hints.Rule
	if rule == nil || rule.Length != 300 || r2.Norm(r2.Sub(rule.P, from)) > 1e-6 || r2.Norm(r2.Sub(rule.Q, to)) > 1e-6 {
		t.Errorf("the rule is %+v, want from %v to %v", rule, from, to)
	}
}

func TestTwoClicksOnTheRuleDoAsWell(t *testing.T) {
	w := bench(t)
	w.markRule()
	for _, x := range []float32{120, 420} {
		w.picture.MouseDown(mouse(x, 210))
		w.picture.MouseUp(mouse(x, 210))
	}
	if w.win.Canvas().Overlays().Top() == nil || len(w.picture.marks) != 2 {
		t.Errorf("%d marks are set", len(w.picture.marks))
	}
}

// TestADragWhileTheEndsAreAskedForStillPans: only a rule is marked by a drag.
func TestADragWhileTheEndsAreAskedForStillPans(t *testing.T) {
	w := bench(t)
	w.markEnds()
	before := w.picture.centre
	along(w.picture, 100, 200, 160, 200)
	if w.picture.wanted != 2 || w.picture.centre == before {
		t.Errorf("%d marks are wanted, the centre went from %v to %v", w.picture.wanted, before, w.picture.centre)
	}
	if w.picture.Cursor() != desktop.Cursor(desktop.CrosshairCursor) {
		t.Error("the cursor does not say that a click sets a mark")
	}
}

func TestEscapeGivesUpALineAlongTheRule(t *testing.T) {
	w := bench(t)
	w.markRule()
	w.picture.MouseDown(mouse(100, 200))
	w.picture.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 210)}, Dragged: fyne.NewDelta(200, 10)})
	w.picture.TypedKey(typed(fyne.KeyEscape))
	w.picture.MouseUp(mouse(320, 210))
	if w.picture.wanted != 2 || len(w.picture.marks) != 0 || w.win.Canvas().Overlays().Top() != nil {
		t.Errorf("%d marks are wanted, %d are set", w.picture.wanted, len(w.picture.marks))
	}
	w.picture.TypedKey(typed(fyne.KeyEscape))
	if w.picture.wanted != 0 {
		t.Error("a second Esc still asks for marks")
	}
}

func TestKeysMoveThePhotograph(t *testing.T) {
	w := bench(t)
	w.showPicture(true)
	w.picture.MouseDown(mouse(50, 50))
	if w.win.Canvas().Focused() != fyne.Focusable(w.picture) {
		t.Fatal("a press does not give the photograph the keyboard")
	}
	before, zoom := w.picture.centre, w.picture.zoom
	w.picture.TypedKey(typed(fyne.KeyRight))
	if got := w.picture.centre.X - before.X; !close2(got, 40/zoom, 1e-9) {
		t.Errorf("an arrow moves it by %v px", got)
	}
	w.picture.TypedRune('+')
	if got := w.picture.zoom; !close2(got, zoom*zoomStep, 1e-9) {
		t.Errorf("plus magnifies to %v", got)
	}
}
