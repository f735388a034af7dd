package app

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
)

// tracks is the bench: photograph, profile and stick on one axis. It draws one raster and forwards what the hand does to
// the model.
type tracks struct {
	widget.BaseWidget

	model *model
	say   func(string) // the live readout

	raster *canvas.Raster
	faces  *faces
	drawn  *image.RGBA // the last frame; the toolkit has copied it when it asks for the next
	photo  *pyramid
	scope  scope
	fitted bool // the scope still shows the whole piece: keep it so when the size changes

	hot     grip // under the pointer
	pressed press
	space   bool // the space bar is held: a drag moves the view, whatever lies under it
	moving  *panCursor
}

// press is a mouse button being held.
type press struct {
	down    bool
	grip    grip
	x, y    float64
	pan     bool
	lead    float64         // on the overview bar: from the hand to the middle of the frame, mm
	before  profile.Pattern // the pattern when the drag began
	moved   bool
	changed bool   // the pattern, by this drag
	hand    point  // where it is now
	reading string // what it has changed to; empty = it pans, or has not moved
}

var (
	_ fyne.Widget        = (*tracks)(nil)
	_ fyne.Draggable     = (*tracks)(nil)
	_ fyne.Scrollable    = (*tracks)(nil)
	_ fyne.Focusable     = (*tracks)(nil)
	_ desktop.Mouseable  = (*tracks)(nil)
	_ desktop.Hoverable  = (*tracks)(nil)
	_ desktop.Cursorable = (*tracks)(nil)
	_ desktop.Keyable    = (*tracks)(nil)
)

func newTracks(m *model, say func(string)) (*tracks, error) {
	f, err := newFaces()
	if err != nil {
		return nil, err
	}
	t := &tracks{model: m, say: say, faces: f, fitted: true, scope: scope{perMM: 1}, moving: newPanCursor()}
	t.raster = canvas.NewRaster(t.paint)
	t.ExtendBaseWidget(t)
	m.watch(func() {
		if !t.pressed.down {
			t.hot = grip{} // what lies under the pointer may have moved away
		}
		t.refresh()
	})
	return t, nil
}

// CreateRenderer is for Fyne.
func (t *tracks) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(t.raster) }

// MinSize is for Fyne: room for three tracks that can be read.
func (t *tracks) MinSize() fyne.Size { return fyne.NewSize(420, 320) }

// Resize is for Fyne.
func (t *tracks) Resize(s fyne.Size) {
	t.BaseWidget.Resize(s)
	if t.fitted {
		t.fit()
	}
}

// show puts a photograph under the tracks; nil = none.
func (t *tracks) show(p *pyramid) {
	t.photo = p
	t.fit()
}

// fit shows the whole piece.
func (t *tracks) fit() {
	t.fitted = true
	t.scope = fitScope(t.model.pattern().Length, float64(t.Size().Width), t.mostPerMM())
	t.refresh()
}

// mostPerMM is how far the whole piece can be magnified before it stands over the lower of its tracks.
func (t *tracks) mostPerMM() float64 {
	const share = 0.86
	round, side := t.model.pattern().Largest()
	widest := math.Max(round, side)
	if widest <= 0 {
		return 0
	}
	f := t.frame()
	height := f.bands.profile.height
	if f.photo != nil {
		height = math.Min(height, f.bands.photo.height)
	}
	return share * height / widest
}

// full shows the piece at its own size.
func (t *tracks) full() { t.magnify(lifeSize / t.scope.perMM) }

// magnify zooms about the middle.
func (t *tracks) magnify(factor float64) { t.zoom(float64(t.Size().Width)/2, factor) }

func (t *tracks) zoom(x, factor float64) {
	t.fitted = false
	t.scope = t.scope.zoomed(x, factor)
	t.refresh()
}

func (t *tracks) refresh() { t.raster.Refresh() }

func (t *tracks) frame() frame {
	p := t.model.pattern()
	m := t.model.job.Measurement
	photo := t.photo
	if !hasPhoto(photo, m.Scene) {
		photo = nil
	}
	return frame{
		photo: photo, scene: m.Scene, outline: m.Outline, trace: m.Trace, pattern: p, stations: p.Stations(),
		scope: t.scope, width: float64(t.Size().Width), bands: split(float64(t.Size().Height), photo != nil),
		colours: paletteFor(fyne.CurrentApp().Settings().ThemeVariant()), unit: t.model.unit,
		selected: t.model.selected, weak: t.model.weaknesses(), hot: t.hot, cursor: t.model.cursor, hand: t.pressed.hand, reading: t.pressed.reading,
	}.prepared()
}

func (t *tracks) paint(w, h int) image.Image {
	scale := 1.0
	if t.Size().Width > 0 {
		scale = float64(w) / float64(t.Size().Width)
	}
	t.drawn = t.frame().draw(w, h, scale, t.faces, t.drawn)
	return t.drawn
}
