package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// photoAdvice is how to take a photograph that measures well: each line removes one of the errors that the sheets' figures
// carry (common practice, no source, and the geometry of a camera).
func photoAdvice() []string {
	return []string{
		lang.L("Stand 2 m off or more, with the longest lens you have."),
		lang.L("Aim at the middle of the piece; lay the boards beside it, one near each end."),
		lang.L("Raise the boards to the height of the axis if you can."),
		lang.L("A plain ground of another colour, soft light from both sides, no flash."),
		lang.L("Turn a square corner-on when its shoulder matters."),
	}
}

// photoPanel opens photographs and says how to take them.
func (w *Window) photoPanel() fyne.CanvasObject {
	open := w.line.button(lang.L("Open a photograph…"), lang.L("A photograph can also be dropped on the window."), w.choosePhoto)
	open.Importance = widget.HighImportance
	boards := w.line.button(lang.L("Print the scale boards…"), lang.L("Write the boards as a PDF. Print it at 100 %, and measure its check bar."), w.saveBoards)
	title := w.line.entry(lang.L("The title stands on every sheet, and names the files."))
	title.SetPlaceHolder(lang.L("what this piece is"))
	title.OnChanged = w.model.rename
	w.model.watch(func() {
		if title.Text != w.model.job.Title {
			title.SetText(w.model.job.Title)
		}
	})
	list, sketches := container.NewVBox(), photoSketches()
	for i, line := range photoAdvice() {
		list.Add(container.NewBorder(nil, nil, newSketch(sketches[i]), nil, container.NewVBox(layout.NewSpacer(), paragraph(line), layout.NewSpacer())))
	}
	return container.NewVBox(container.NewGridWithColumns(2, open, boards), widget.NewForm(widget.NewFormItem(lang.L("Title"), title)),
		widget.NewLabelWithStyle(lang.L("A photograph that measures well"), fyne.TextAlignLeading, fyne.TextStyle{Bold: true}), list, widget.NewSeparator(), w.severalPanel())
}

func paragraph(s string) *widget.Label {
	l := widget.NewLabel(s)
	l.Wrapping = fyne.TextWrapWord
	return l
}
