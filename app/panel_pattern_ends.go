package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// ends extends a broken end: by the mirror image of the other half about the selected element, or by hand.
type ends struct {
	window *Window

	mirrorNear, mirrorFar, addNear, addFar *hintButton
	length, d                              *hintEntry
	kind                                   *kindChooser
	chosen                                 profile.Kind
	content                                fyne.CanvasObject
}

func newEnds(w *Window) *ends {
	e := &ends{window: w, chosen: profile.Taper}
	hint := lang.L("The middle of the selected element is where the piece is its own mirror image.")
	e.mirrorNear = w.line.button(lang.L("Mirror to the hook end"), hint, func() { e.mirror(profile.Near) })
	e.mirrorFar = w.line.button(lang.L("Mirror to the far end"), hint, func() { e.mirror(profile.Far) })
	e.length = w.line.entry(lang.L("How long the added element is."))
	e.length.SetPlaceHolder(lang.L("length"))
	e.d = w.line.entry(lang.L("The diameter where it ends."))
	e.d.SetPlaceHolder(lang.L("diameter"))
	e.kind = newKindChooser(func(k profile.Kind) {
		e.chosen = k
		e.kind.show(k)
	})
	e.kind.button.line = w.line
	e.kind.show(e.chosen)
	e.addNear = w.line.button(lang.L("Add at the hook end"), lang.L("Put the element before the first; all stations move on by its length."), func() { e.add(profile.Near) })
	e.addFar = w.line.button(lang.L("Add at the far end"), lang.L("Put the element after the last."), func() { e.add(profile.Far) })
	e.content = container.NewVBox(
		paragraph(lang.L("Select the element in the middle of what is symmetric; what is missing beyond the break then comes from the other half.")),
		container.NewGridWithColumns(2, e.mirrorNear, e.mirrorFar), widget.NewSeparator(),
		container.NewGridWithColumns(3, e.kind.content, e.length, e.d), container.NewGridWithColumns(2, e.addNear, e.addFar))
	w.model.watch(e.fill)
	e.fill()
	return e
}

func (e *ends) fill() {
	m := e.window.model
	el, ok := m.element()
	about := (el.X0 + el.X1) / 2
	enable(e.mirrorFar, ok && 2*about > m.pattern().Length+profile.MinElement)
	enable(e.mirrorNear, ok && 2*about < m.pattern().Length-profile.MinElement)
	enable(e.addNear, m.traced())
	enable(e.addFar, m.traced())
}

func (e *ends) mirror(end profile.End) {
	el, ok := e.window.model.element()
	if !ok {
		return
	}
	e.extend(lang.L("complete an end"), func(j job.Job) (job.Job, error) { return j.Complete(end, (el.X0+el.X1)/2) })
}

func (e *ends) add(end profile.End) {
	m := e.window.model
	length, err := profile.ParseLength(e.length.Text, m.unit)
	if err == nil {
		var d float64
		if d, err = profile.ParseLength(e.d.Text, m.unit); err == nil {
			e.extend(lang.L("add an element at an end"), func(j job.Job) (job.Job, error) { return j.Append(end, e.chosen, length, d) })
			return
		}
	}
	e.window.say(plainly(err))
}

// extend makes the piece longer, as one step that can be undone, and shows all of it.
func (e *ends) extend(name string, op func(job.Job) (job.Job, error)) {
	m := e.window.model
	j, err := op(m.job)
	if err != nil {
		e.window.say(plainly(err))
		return
	}
	m.replace(name, j)
	e.window.fitView()
}
