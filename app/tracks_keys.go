package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

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
func (t *tracks) FocusLost() {}

// TypedRune is for Fyne.
func (t *tracks) TypedRune(r rune) {
	switch r {
	case '+', '=':
		t.zoom(float64(t.Size().Width)/2, 1.25)
	case '-':
		t.zoom(float64(t.Size().Width)/2, 0.8)
	}
}

// TypedKey is for Fyne: up and down go through the elements, left and right move the near station of the selected one
// by the workshop step, ten steps with Shift.
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
	}
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
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0 {
		steps *= 10
	}
	g := grip{kind: gripStation, at: i}
	x := t.model.pattern().Elements[i].X0 + steps*t.step()
	err := t.model.edit(g.name(), "nudge "+number(i), func(p profile.Pattern) (profile.Pattern, error) { return profile.MoveStation(p, i, x) })
	if err != nil {
		t.say(plainly(err))
		return
	}
	t.say(t.reading(g))
}
