package app

import (
	"fyne.io/fyne/v2"

	"spindlestick/profile"
)

func (t *tracks) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(t); c != nil {
		c.Focus(t)
	}
}

// FocusGained is for Fyne.
func (t *tracks) FocusGained() {}

// FocusLost is for Fyne.
func (t *tracks) FocusLost() { t.space = false }

// TypedRune is for Fyne.
func (t *tracks) TypedRune(r rune) {
	switch r {
	case '+', '=':
		t.magnify(zoomStep)
	case '-':
		t.magnify(1 / zoomStep)
	}
}

// zoomStep is how much one press of a key magnifies.
const zoomStep = 1.25

// KeyDown is for Fyne: while the space bar is held, a drag moves the view.
func (t *tracks) KeyDown(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace {
		t.space = true
	}
}

// KeyUp is for Fyne.
func (t *tracks) KeyUp(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace {
		t.space = false
	}
}

// TypedKey is for Fyne: up and down go through the elements, left and right move the near station of the selected one
// by the workshop step, by ten with Shift, by one unit of the screen with Alt; Home and End go to the piece's ends,
// Delete takes the selected element out.
func (t *tracks) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		t.cancelDrag()
	case fyne.KeyUp:
		t.model.selectElement(max(0, t.model.selected-1))
	case fyne.KeyDown:
		t.model.selectElement(t.model.selected + 1)
	case fyne.KeyLeft:
		t.nudge(-1)
	case fyne.KeyRight:
		t.nudge(1)
	case fyne.KeyDelete, fyne.KeyBackspace:
		t.deleteSelected()
	case fyne.KeyHome:
		t.goTo(0)
	case fyne.KeyEnd:
		t.goTo(t.model.pattern().Length)
	}
}

// deleteSelected takes the selected element out.
func (t *tracks) deleteSelected() {
	i := t.model.selected
	if i < 0 {
		return
	}
	err := t.model.edit(phrase("delete element {{.N}}", "N", i+1), "", func(p profile.Pattern) (profile.Pattern, error) { return profile.Delete(p, i) })
	if err != nil {
		t.say(plainly(err))
	}
}

// goTo brings a station to the middle, when the piece is wider than the view.
func (t *tracks) goTo(station float64) {
	if t.fitted {
		return
	}
	t.scope = t.scope.centred(station, t.model.pattern().Length, float64(t.Size().Width))
	t.refresh()
}

// step is the workshop step of the unit, mm: a tenth of a millimetre or 1/64 inch.
func (t *tracks) step() float64 {
	if t.model.unit == profile.MM {
		return 0.1
	}
	return profile.MMPerInch / 64
}

func (t *tracks) nudge(steps float64) {
	i := t.model.selected
	if i < 1 {
		return // the hook end stays
	}
	by := steps * t.step()
	switch {
	case held(fyne.KeyModifierAlt):
		by = steps / t.scope.perMM // one unit of the screen
	case held(fyne.KeyModifierShift):
		by *= 10
	}
	g := grip{kind: gripStation, at: i}
	x := t.model.pattern().Elements[i].X0 + by
	err := t.model.edit(g.name(), "nudge "+number(i), func(p profile.Pattern) (profile.Pattern, error) { return profile.MoveStation(p, i, x) })
	if err != nil {
		t.say(plainly(err))
		return
	}
	t.say(t.reading(g))
}
