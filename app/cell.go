package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// low is a cell's layout: a label as wide as the cell, and no higher than its line of text needs.
type low struct{}

// lowPadding is what a line of text keeps above and below it, units.
const lowPadding = 2

// lowMargin is how far the label's own padding stands over the cell left and right, units.
const lowMargin = 3

// MinSize is for Fyne.
func (low) MinSize(o []fyne.CanvasObject) fyne.Size {
	line := fyne.MeasureText("0", textSize(), fyne.TextStyle{}).Height
	return fyne.NewSize(o[0].MinSize().Width, line+2*lowPadding)
}

// Layout is for Fyne: the label's own padding stands over the cell on all sides.
func (low) Layout(o []fyne.CanvasObject, size fyne.Size) {
	height := o[0].MinSize().Height
	o[0].Resize(fyne.NewSize(size.Width+2*lowMargin, height))
	o[0].Move(fyne.NewPos(-lowMargin, (size.Height-height)/2))
}

func textSize() float32 { return fyne.CurrentApp().Settings().Theme().Size("text") }

// newCell is a table's cell.
func newCell() fyne.CanvasObject {
	l := widget.NewLabel("")
	l.Truncation = fyne.TextTruncateEllipsis
	return container.New(low{}, l)
}

// cellLabel is the label of a cell.
func cellLabel(o fyne.CanvasObject) *widget.Label {
	return o.(*fyne.Container).Objects[0].(*widget.Label)
}
