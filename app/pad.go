package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// pad is ground that takes a press for the button on it, so that a hurried hand need not aim. The keyboard passes it by.
type pad struct {
	widget.BaseWidget
	line *statusLine
	hint string
	do   func()
}

var (
	_ fyne.Tappable     = (*pad)(nil)
	_ desktop.Hoverable = (*pad)(nil)
)

func newPad(line *statusLine, hint string, do func()) *pad {
	p := &pad{line: line, hint: hint, do: do}
	p.ExtendBaseWidget(p)
	return p
}

// CreateRenderer is for Fyne.
func (p *pad) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(colour{}))
}

// Tapped is for Fyne.
func (p *pad) Tapped(*fyne.PointEvent) { p.do() }

// MouseIn is for Fyne.
func (p *pad) MouseIn(*desktop.MouseEvent) { p.line.hint(p, p.hint) }

// MouseMoved is for Fyne.
func (p *pad) MouseMoved(*desktop.MouseEvent) {}

// MouseOut is for Fyne.
func (p *pad) MouseOut() { p.line.rest(p) }
