package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
	"gonum.org/v1/gonum/spatial/r2"
)

// outlinePanel shows how well the edge was found and lets the user point at the piece's ends.
func (w *Window) outlinePanel() fyne.CanvasObject {
	mark := w.line.button(lang.L("Mark the two ends…"), lang.L("Point at the piece's two ends in the photograph, first the one the stick hooks over."), w.markEnds)
	forget := w.line.button(lang.L("Find the ends again"), lang.L("Forget the marks and look for the piece anew."), func() {
		w.model.job.Hints.Axis = nil
		w.retrace()
	})
	turn := w.line.button(lang.L("Hook over the other end"), lang.L("Count stations from the other end."), w.turnRound)
	whole := w.line.check(lang.L("Show the whole photograph"), lang.L("The photograph as it was taken, with what was found in it, or the three tracks."), func(on bool) { w.showPicture(on) })
	w.mender = w.newMender()
	facts := paragraph("")
	update := func() {
		q := w.model.job.Measurement.Outline.Quality
		text := lang.L("No outline yet.")
		if len(w.model.job.Measurement.Outline.Sides[0]) > 0 {
			text = phrase("Weak edge: {{.Share}} % of the length. The two sides differ by {{.Px}} px.", "Share", decimals(100*q.WeakFraction, 0), "Px", decimals(q.Asymmetry, 2))
			for _, s := range q.Warnings {
				text += "\n" + spoken(s)
			}
		}
		if facts.Text != text {
			facts.SetText(text)
		}
		for _, b := range []fyne.Disableable{mark, forget, turn} {
			if len(w.model.job.Photo) == 0 {
				b.Disable()
			} else {
				b.Enable()
			}
		}
	}
	w.model.watch(update)
	update()
	return container.NewVBox(container.NewGridWithColumns(2, mark, forget), turn, whole, facts, widget.NewSeparator(), w.mender.content)
}

// markEnds asks for the piece's two ends and traces with them.
func (w *Window) markEnds() {
	w.ask(lang.L("Click on the end the stick hooks over, then on the other end."), func(a, b r2.Vec) {
		w.model.job.Hints.Axis = &[2]r2.Vec{a, b}
		w.retrace()
	})
}

// turnRound traces with the ends changed over.
func (w *Window) turnRound() {
	o := w.model.job.Measurement.Outline.Axis
	if o[0] == o[1] {
		return
	}
	w.model.job.Hints.Axis = &[2]r2.Vec{o[1], o[0]}
	w.retrace()
}
