package app

import (
	"fyne.io/fyne/v2"

	"spindlestick/profile"
)

// The settings the program keeps between runs, by their names in Fyne's preferences: folder, paper, unit, width, height,
// recent, printers, printer, hook, allowance.

// recentCount is how many files the menu remembers.
const recentCount = 8

func (w *Window) unitSetting() profile.Unit {
	switch u := profile.Unit(w.app.Preferences().String("unit")); u {
	case profile.Inch, profile.Fraction:
		return u
	}
	return profile.MM
}

func (w *Window) setUnit(u profile.Unit) {
	if w.model.unit == u {
		return
	}
	w.model.unit = u
	w.app.Preferences().SetString("unit", string(u))
	w.model.changed()
}

// savedSize is the window's size last time; the first time it fits a screen of 1366 x 768.
func (w *Window) savedSize() fyne.Size {
	p := w.app.Preferences()
	return fyne.NewSize(float32(p.FloatWithFallback("width", 1280)), float32(p.FloatWithFallback("height", 690)))
}

func (w *Window) rememberSize() {
	s := w.win.Canvas().Size()
	w.app.Preferences().SetFloat("width", float64(s.Width))
	w.app.Preferences().SetFloat("height", float64(s.Height))
}

// remember puts a file at the head of the recent ones.
func (w *Window) remember(path string) {
	if path == "" {
		return
	}
	list := []string{path}
	for _, old := range w.recent() {
		if old != path && len(list) < recentCount {
			list = append(list, old)
		}
	}
	w.app.Preferences().SetStringList("recent", list)
	w.menus.refreshRecent(w)
}

func (w *Window) recent() []string { return w.app.Preferences().StringList("recent") }
