package app

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"

	"spindlestick/profile"
)

// MouseDown is for Fyne: decides what the drag that may follow does.
func (t *tracks) MouseDown(e *desktop.MouseEvent) {
	t.focus()
	x, y := float64(e.Position.X), float64(e.Position.Y)
	g := t.frame().find(x, y)
	t.pressed = press{down: true, grip: g, x: x, y: y, before: t.model.pattern()}
	t.pressed.pan = g.kind == gripNone || t.space || e.Button != desktop.MouseButtonPrimary
	if g.kind == gripView {
		t.pressed.pan = false
		t.takeView(x)
	}
	t.hot = g
	t.refresh()
}

// MouseUp is for Fyne. A press that did not move selects what is under it.
func (t *tracks) MouseUp(*desktop.MouseEvent) {
	p := t.pressed
	t.pressed = press{}
	t.model.seal()
	if p.down && !p.moved && p.grip.kind == gripNone {
		t.pick(p.x)
	}
	t.refresh()
}

// pick selects the element at a screen position and remembers the station for Split.
func (t *tracks) pick(x float64) {
	at := t.scope.station(x)
	t.model.cursor = at
	t.model.selectElement(t.model.pattern().Index(at))
	t.refresh()
}

// Dragged is for Fyne.
func (t *tracks) Dragged(e *fyne.DragEvent) {
	if !t.pressed.down {
		return
	}
	t.pressed.moved = true
	if t.pressed.pan {
		t.fitted = false
		t.scope = t.scope.panned(float64(e.Dragged.DX), t.model.pattern().Length, float64(t.Size().Width))
		t.refresh()
		return
	}
	if t.pressed.grip.kind == gripView {
		t.viewTo(float64(e.Position.X))
		return
	}
	t.dragTo(float64(e.Position.X), float64(e.Position.Y))
}

// takeView begins a drag on the overview bar: inside the frame it is taken where it stands, beside it it comes to the hand.
func (t *tracks) takeView(x float64) {
	f := t.frame()
	at, middle := f.overview().station(x), t.scope.station(f.width/2)
	if from, to := f.shown(); at >= from && at <= to {
		t.pressed.lead = middle - at
		return
	}
	t.viewTo(x)
}

// viewTo moves the view to where the hand is on the overview bar.
func (t *tracks) viewTo(x float64) {
	f := t.frame()
	t.fitted = false
	t.scope = t.scope.centred(f.overview().station(x)+t.pressed.lead, f.pattern.Length, f.width)
	t.refresh()
}

func (t *tracks) dragTo(x, y float64) {
	g, from := t.pressed.grip, t.pressed.before
	f := t.frame()
	err := t.model.edit(g.name(), g.name(), func(profile.Pattern) (profile.Pattern, error) { return f.drag(from, g, x, y) })
	if err != nil {
		t.say(plainly(err))
		return
	}
	t.pressed.changed = true
	t.pressed.hand, t.pressed.reading = point{x, y}, t.reading(g)
	t.say(t.pressed.reading)
	t.refresh()
}

// reading is the live number of what is being dragged.
func (t *tracks) reading(g grip) string {
	p, u := t.model.pattern(), t.model.unit
	switch g.kind {
	case gripStation:
		return phrase("station {{.N}} at {{.At}}", "N", g.at+1, "At", long(p.Elements[g.at-1].X1, u))
	case gripEnd:
		e := p.Elements[g.at]
		d := e.D0
		if g.end == profile.Far {
			d = e.D1
		}
		return phrase("{{.Kind}} diameter {{.D}}", "Kind", lang.L(string(e.Kind)), "D", long(d, u))
	case gripMid:
		_, d, _ := p.Elements[g.at].Mid()
		return phrase("{{.Kind}} middle diameter {{.D}}", "Kind", lang.L(string(p.Elements[g.at].Kind)), "D", long(d, u))
	}
	return ""
}

// DragEnd is for Fyne.
func (t *tracks) DragEnd() { t.model.seal() }

// cancelDrag puts back what the drag under way changed.
func (t *tracks) cancelDrag() {
	if !t.pressed.down {
		return
	}
	g, changed := t.pressed.grip, t.pressed.changed
	t.pressed = press{}
	if changed {
		t.model.undo()
		t.say(t.reading(g))
	}
}

// MouseIn is for Fyne.
func (t *tracks) MouseIn(e *desktop.MouseEvent) { t.MouseMoved(e) }

// MouseOut is for Fyne.
func (t *tracks) MouseOut() {
	t.hot = grip{}
	t.refresh()
}

// MouseMoved is for Fyne: shows what a press would take hold of, and the numbers under the pointer.
func (t *tracks) MouseMoved(e *desktop.MouseEvent) {
	if t.pressed.down || !t.model.traced() {
		return
	}
	x, y := float64(e.Position.X), float64(e.Position.Y)
	g := t.frame().find(x, y)
	if g != t.hot {
		t.hot = g
		t.refresh()
	}
	if g.kind == gripView {
		t.say(viewHint())
		return
	}
	if g.kind != gripNone {
		t.say(t.reading(g))
		return
	}
	at := t.scope.station(x)
	text := phrase("{{.At}} from the hook end", "At", long(at, t.model.unit))
	if d, ok := t.model.pattern().DiameterAt(at); ok {
		text += phrase(", diameter {{.D}}", "D", long(d, t.model.unit))
	}
	if i := t.model.pattern().Index(at); i >= 0 && t.model.weaknesses()[i].word != "" {
		text += "  ·  " + t.model.weaknesses()[i].word + ": " + t.model.weaknesses()[i].why
	}
	t.say(text)
}

// Cursor is for Fyne.
func (t *tracks) Cursor() desktop.Cursor {
	if t.space || t.pressed.down && t.pressed.pan {
		return t.moving
	}
	switch t.hot.kind {
	case gripStation:
		return desktop.HResizeCursor
	case gripEnd, gripMid:
		return desktop.VResizeCursor
	case gripView:
		return t.moving
	}
	if !t.fitted {
		return t.moving // there is more to see than is shown
	}
	return desktop.DefaultCursor
}

// Scrolled is for Fyne: the wheel zooms about the pointer; with Shift, or sideways, it moves along the piece.
func (t *tracks) Scrolled(e *fyne.ScrollEvent) {
	along, n := wheel(e)
	if along != 0 {
		t.fitted = false
		t.scope = t.scope.panned(along, t.model.pattern().Length, float64(t.Size().Width))
		t.refresh()
	}
	if n != 0 {
		t.zoom(float64(e.Position.X), math.Pow(zoomNotch, n))
	}
}

// zoomNotch is how much one notch of a wheel magnifies: five double the picture.
const zoomNotch = 1.15

// wheel tells what a wheel or two fingers mean: how far to move along, units, and how many notches to zoom.
func wheel(e *fyne.ScrollEvent) (along, notches float64) {
	const notch, most, pace = 25, 4, 3 // units of a wheel's notch, the most notches one event counts for, units moved for one of them
	along, up := pace*float64(e.Scrolled.DX), float64(e.Scrolled.DY)
	if held(fyne.KeyModifierShift) {
		along, up = along+pace*up, 0
	}
	return along, math.Max(-most, math.Min(most, up/notch))
}

// held reports whether a modifier key is down.
func held(m fyne.KeyModifier) bool {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	return ok && d.CurrentKeyModifiers()&m != 0
}
