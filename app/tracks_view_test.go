package app

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"pgregory.net/rapid"
)

// inBar is a point on the overview bar over a station.
func inBar(w *Window, station float64) (x, y float64) {
	f := w.tracks.frame()
	return f.overview().x(station), f.bands.overview.mid()
}

func TestTheOverviewFrameMovesTheView(t *testing.T) {
	w := bench(t)
	w.tracks.zoom(0, 4)
	width := float64(w.tracks.Size().Width)
	middle := w.tracks.scope.station(width / 2)
	from := middle + 3 // inside the frame, not at its middle
	x0, y := inBar(w, from)
	x1, _ := inBar(w, from+40)
	hand{w.tracks}.drag(x0, y, x1, y)
	if got := w.tracks.scope.station(width / 2); !close2(got, middle+40, 0.2) {
		t.Errorf("the view's middle went from %v to %v, want 40 mm on", middle, got)
	}
	if w.model.dirty() {
		t.Error("moving the view changed the job")
	}
	x, y := inBar(w, 20)
	hand{w.tracks}.click(x, y)
	if got := w.tracks.scope.station(width / 2); !close2(got, 20, 0.2) {
		t.Errorf("a press beside the frame shows %v in the middle, want 20", got)
	}
	if w.model.selected != -1 {
		t.Error("a press on the bar selects an element")
	}
}

func TestTheOverviewShowsTheWholePieceAtAnyZoom(t *testing.T) {
	f := tall(12)
	f.pattern.Length = 800
	rapid.Check(t, func(t *rapid.T) {
		g := f
		g.width = rapid.Float64Range(420, 3000).Draw(t, "width")
		g.scope = fitScope(800, g.width, 0).zoomed(rapid.Float64Range(0, 3000).Draw(t, "about"), rapid.Float64Range(0.2, 50).Draw(t, "factor"))
		o := g.overview()
		if o.x(0) < 0 || o.x(800) > g.width {
			t.Fatalf("the piece lies from %v to %v of %v", o.x(0), o.x(800), g.width)
		}
		if from, to := g.shown(); from < 0 || to > 800 {
			t.Fatalf("the frame reaches from %v to %v", from, to)
		}
	})
}

func TestTheSpaceBarMakesADragMoveTheView(t *testing.T) {
	w := bench(t)
	x, y := w.tracks.scope.x(42), w.tracks.frame().bands.stick.top+12
	w.tracks.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace})
	if w.tracks.Cursor() != desktop.Cursor(w.tracks.moving) {
		t.Error("the cursor does not say that a drag moves the view")
	}
	before := w.tracks.scope.x(60)
	hand{w.tracks}.drag(x, y, x+50, y)
	if got := w.model.pattern().Elements[1].X1; got != 42 {
		t.Errorf("the station under the hand went to %v", got)
	}
	if got := w.tracks.scope.x(60); !close2(got, before+50, 0.01) {
		t.Errorf("station 60 stands at %v, want %v", got, before+50)
	}
	w.tracks.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace})
	x = w.tracks.scope.x(42)
	hand{w.tracks}.drag(x, y, x+20, y)
	if got := w.model.pattern().Elements[1].X1; got <= 42 {
		t.Error("without the space bar the station does not move")
	}
}

func TestTheMiddleButtonMovesTheView(t *testing.T) {
	w := bench(t)
	h := hand{w.tracks}
	x, y := w.tracks.scope.x(42), w.tracks.frame().bands.stick.top+12
	w.tracks.MouseDown(&desktop.MouseEvent{PointEvent: h.at(x, y), Button: desktop.MouseButtonTertiary})
	h.move(x, y, x+40, y)
	h.release(x+40, y)
	if got := w.model.pattern().Elements[1].X1; got != 42 {
		t.Errorf("the station went to %v", got)
	}
	if got := w.tracks.scope.x(42); !close2(got, x+40, 0.01) {
		t.Errorf("the view did not follow the hand: %v", got-x)
	}
}

func TestTwoFingersSidewaysMoveAlongThePiece(t *testing.T) {
	w := bench(t)
	before := w.tracks.scope
	w.tracks.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(-10, 0)})
	after := w.tracks.scope
	if after.perMM != before.perMM || after.left <= before.left {
		t.Errorf("from %+v to %+v", before, after)
	}
}

func TestKeysZoomAndGoToTheEnds(t *testing.T) {
	w := bench(t)
	width := float64(w.tracks.Size().Width)
	before := w.tracks.scope
	for range 8 {
		w.tracks.TypedRune('+')
	}
	if got := w.tracks.scope.perMM / before.perMM; !close2(got, math.Pow(zoomStep, 8), 1e-6) {
		t.Errorf("eight presses magnify %v times", got)
	}
	w.tracks.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	if x := w.tracks.scope.x(120); x < 0 || x > width {
		t.Errorf("after End the far end stands at %v of %v", x, width)
	}
	w.tracks.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	if x := w.tracks.scope.x(0); x < 0 || x > width {
		t.Errorf("after Home the hook end stands at %v of %v", x, width)
	}
	w.fullView()
	// CSS takes 96 reference pixels for an inch.
	if got := w.tracks.scope.perMM * 25.4; !close2(got, 96, 1e-6) {
		t.Errorf("life size shows an inch as %v units", got)
	}
	w.tracks.TypedRune('-')
	if got := w.tracks.scope.perMM * 25.4; !close2(got, 96/zoomStep, 1e-6) {
		t.Errorf("minus shows an inch as %v units", got)
	}
}

func TestThePhotographZoomsAboutThePointerAndShowsItsPixels(t *testing.T) {
	w := bench(t)
	w.showPicture(true)
	at := fyne.NewPos(200, 150)
	before := w.picture.at(at)
	w.picture.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: at}, Scrolled: fyne.NewDelta(0, 50)})
	if got := w.picture.at(at); !close2(got.X, before.X, 1e-6) || !close2(got.Y, before.Y, 1e-6) {
		t.Errorf("the pixel under the pointer went from %v to %v", before, got)
	}
	if w.picture.Cursor() != desktop.Cursor(w.picture.moving) {
		t.Error("the cursor does not say that a drag moves the photograph")
	}
	w.fullView()
	if w.picture.zoom != 1 {
		t.Errorf("one pixel takes %v units", w.picture.zoom)
	}
	w.magnify(2)
	if w.picture.zoom != 2 {
		t.Errorf("twice as close one pixel takes %v units", w.picture.zoom)
	}
	w.fitView()
	if w.picture.Cursor() != desktop.DefaultCursor {
		t.Error("the whole photograph is shown, and the cursor says it moves")
	}
}
