package app

import (
	"fyne.io/fyne/v2"
	"gonum.org/v1/gonum/spatial/r2"
)

var _ fyne.Focusable = (*picture)(nil)

// FocusGained is for Fyne.
func (p *picture) FocusGained() {}

// FocusLost is for Fyne.
func (p *picture) FocusLost() {}

// TypedRune is for Fyne.
func (p *picture) TypedRune(r rune) {
	switch r {
	case '+', '=':
		p.magnify(zoomStep)
	case '-':
		p.magnify(1 / zoomStep)
	}
}

// TypedKey is for Fyne: arrows move the photograph, Esc gives up what is being drawn on it, and then the marks asked for.
func (p *picture) TypedKey(e *fyne.KeyEvent) {
	const stride = 40 // units
	switch e.Name {
	case fyne.KeyLeft:
		p.shift(-stride, 0)
	case fyne.KeyRight:
		p.shift(stride, 0)
	case fyne.KeyUp:
		p.shift(0, -stride)
	case fyne.KeyDown:
		p.shift(0, stride)
	case fyne.KeyEscape:
		p.giveUp()
	}
}

// shift moves what is seen by units of the screen.
func (p *picture) shift(dx, dy float64) {
	if p.photo == nil {
		return
	}
	p.fitted = false
	p.centre = r2.Add(p.centre, r2.Scale(1/p.zoom, r2.Vec{X: dx, Y: dy}))
	p.raster.Refresh()
}

// giveUp takes back what the hand has begun.
func (p *picture) giveUp() {
	switch {
	case p.strokes != nil && p.strokes.down:
		p.strokes.cancel()
	case p.ruled != nil:
		p.ruled, p.panned = nil, true // the release that follows is no click
	default:
		p.marks, p.wanted = nil, 0
	}
	p.raster.Refresh()
}
