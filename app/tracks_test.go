package app

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

func close2(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

func TestDragAStationOnEveryTrack(t *testing.T) {
	for name, pickBand := range map[string]func(bands) band{
		"photo": func(b bands) band { return b.photo }, "profile": func(b bands) band { return b.profile }, "stick": func(b bands) band { return b.stick },
	} {
		w := bench(t)
		h := hand{w.tracks}
		y := pickBand(w.tracks.frame().bands).top + 12
		x := w.tracks.scope.x(42)
		h.drag(x, y, x+w.tracks.scope.perMM*5, y)
		p := w.model.pattern()
		if !close2(p.Elements[1].X1, 47, 0.05) || p.Elements[2].X0 != p.Elements[1].X1 {
			t.Errorf("%s: the station stands at %v, want 47", name, p.Elements[1].X1)
		}
		if got := w.model.history.UndoName(); got != "move station 3" {
			t.Errorf("%s: undo is named %q", name, got)
		}
		w.model.undo()
		if x := w.model.pattern().Elements[1].X1; x != 42 {
			t.Errorf("%s: one undo leaves the station at %v", name, x)
		}
		w.model.redo()
		if x := w.model.pattern().Elements[1].X1; !close2(x, 47, 0.05) {
			t.Errorf("%s: redo puts the station at %v", name, x)
		}
	}
}

func TestDragPastANeighbourStopsThere(t *testing.T) {
	w := bench(t)
	x, y := w.tracks.scope.x(42), w.tracks.frame().bands.stick.top+9
	hand{w.tracks}.drag(x, y, x+w.tracks.scope.perMM*70, y)
	if got := w.model.pattern().Elements[1].X1; !close2(got, 89.9, 1e-9) {
		t.Errorf("the station stands at %v, want just before its neighbour", got)
	}
}

func TestDragADiameterAcross(t *testing.T) {
	w := bench(t)
	h := hand{w.tracks}
	f := w.tracks.frame()
	h.click(f.scope.x(60), f.bands.profile.mid()) // the taper
	if w.model.selected != 2 {
		t.Fatalf("element %d is selected, want the taper", w.model.selected)
	}
	f = w.tracks.frame()
	grab := f.handles()[1] // the taper's far end
	y := f.profileY(grab.d / 2)
	h.drag(grab.x, y, grab.x, y-2*f.profileScale)
	p := w.model.pattern()
	if !close2(p.Elements[2].D1, 16, 0.05) {
		t.Errorf("the far diameter is %v, want 16", p.Elements[2].D1)
	}
	if p.Elements[2].D0 != 16 || p.Elements[1].D1 != 16 {
		t.Error("the near end moved as well")
	}
}

func TestDragTheCrestOfABead(t *testing.T) {
	w := bench(t)
	w.model.selectElement(1)
	f := w.tracks.frame()
	crest := f.handles()[2]
	if crest.d != 22 {
		t.Fatalf("the crest's diameter is %v, want 22", crest.d)
	}
	y := f.profileY(11)
	hand{w.tracks}.drag(crest.x, y, crest.x, y+f.profileScale)
	if _, d, _ := w.model.pattern().Elements[1].Mid(); !close2(d, 20, 0.05) {
		t.Errorf("the crest is %v, want 20", d)
	}
}

func TestEscapeTakesADragBack(t *testing.T) {
	w := bench(t)
	h := hand{w.tracks}
	x, y := w.tracks.scope.x(90), w.tracks.frame().bands.stick.top+9
	h.press(x, y)
	h.move(x, y, x+30, y)
	w.tracks.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	h.move(x+30, y, x+60, y) // the hand goes on moving
	if got := w.model.pattern().Elements[2].X1; got != 90 {
		t.Errorf("the station stands at %v after Esc, want 90", got)
	}
	if got := w.status.Text; got != "station 4 at 90.00 mm" {
		t.Errorf("after Esc the status line says %q", got)
	}
}

func TestADragOnEmptyGroundPans(t *testing.T) {
	w := bench(t)
	before := w.tracks.scope
	y := w.tracks.frame().bands.stick.top + 30
	x := before.x(60)
	hand{w.tracks}.drag(x, y, x+50, y)
	if got := w.tracks.scope.x(60); !close2(got, x+50, 0.01) {
		t.Errorf("station 60 stands at %v, want %v", got, x+50)
	}
	if w.model.dirty() {
		t.Error("panning changed the job")
	}
}

func TestTheWheelZoomsAboutThePointer(t *testing.T) {
	w := bench(t)
	at := w.tracks.scope.station(200)
	w.tracks.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(200, 50)}, Scrolled: fyne.NewDelta(0, 50)})
	if got := w.tracks.scope.station(200); !close2(got, at, 1e-9) {
		t.Errorf("the station under the pointer went from %v to %v", at, got)
	}
	if w.tracks.scope.perMM < 1.2*fitScope(120, float64(w.tracks.Size().Width), 0).perMM {
		t.Error("two notches did not magnify")
	}
	w.tracks.fit()
	if got := w.tracks.scope; got != fitScope(120, float64(w.tracks.Size().Width), 0) {
		t.Error("fit does not show the whole piece again")
	}
}

func TestArrowsNudgeByTheWorkshopStep(t *testing.T) {
	w := bench(t)
	w.model.selectElement(2)
	w.tracks.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	w.tracks.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if got := w.model.pattern().Elements[2].X0; !close2(got, 42.2, 1e-9) {
		t.Errorf("two nudges put the station at %v, want 42.2", got)
	}
	w.model.undo()
	if got := w.model.pattern().Elements[2].X0; got != 42 {
		t.Errorf("one undo takes both nudges back, the station is at %v", got)
	}
}

func TestTheCursorTellsWhatADragDoes(t *testing.T) {
	w := bench(t)
	f := w.tracks.frame()
	over := func(x, y float64) desktop.Cursor {
		w.tracks.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(x), float32(y))}})
		return w.tracks.Cursor()
	}
	if c := over(f.scope.x(42), f.bands.stick.top+9); c != desktop.HResizeCursor {
		t.Errorf("over a station: %v", c)
	}
	if c := over(f.scope.x(60), f.bands.stick.top+9); c != desktop.DefaultCursor {
		t.Errorf("over nothing: %v", c)
	}
	w.model.selectElement(2)
	f = w.tracks.frame()
	grab := f.handles()[0]
	if c := over(grab.x, f.profileY(grab.d/2)); c != desktop.VResizeCursor {
		t.Errorf("over a diameter: %v", c)
	}
}
