package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// advice is what a step misses and the next sensible action.
type advice struct {
	text   string
	action string // the button's words; empty = no button
	do     func()
	wrong  bool // something went wrong
}

// adviceRow is the head of a step's panel.
type adviceRow struct {
	content fyne.CanvasObject
	icon    *widget.Icon
	text    *widget.Label
	button  *hintButton
	do      func()
}

// withAdvice puts a step's advice over its panel.
func (w *Window) withAdvice(s step, panel fyne.CanvasObject) fyne.CanvasObject {
	r := &adviceRow{icon: widget.NewIcon(nil), text: paragraph("")}
	r.button = w.line.button("", lang.L("The next sensible thing to do."), func() { r.do() })
	r.button.Importance = widget.HighImportance
	room := canvas.NewRectangle(colour{}) // two lines, so that what stands below stays where it is
	room.SetMinSize(fyne.NewSize(0, 2*fyne.MeasureText("0", textSize(), fyne.TextStyle{}).Height+4*theme.Padding()))
	r.content = container.NewBorder(nil, widget.NewSeparator(), r.icon, container.NewCenter(r.button), container.NewStack(room, r.text))
	update := func() { r.show(w.adviceFor(s)) }
	w.model.watch(update)
	update()
	w.advices[s] = r
	return container.NewBorder(r.content, nil, nil, nil, panel)
}

// refreshAdvice shows every step's advice anew.
func (w *Window) refreshAdvice() {
	for s, r := range w.advices {
		r.show(w.adviceFor(step(s)))
	}
}

// show fills the row; what stands there already is not drawn anew, as the model changes with every move of a drag.
func (r *adviceRow) show(a advice) {
	r.do = a.do
	if r.text.Text != a.text {
		r.text.SetText(a.text)
	}
	if r.button.Text != a.action {
		r.button.SetText(a.action)
	}
	setVisible(r.button, a.action != "")
	setVisible(r.icon, a.wrong)
	if a.wrong && r.icon.Resource == nil {
		r.icon.SetResource(theme.WarningIcon())
	}
}

func setVisible(o fyne.CanvasObject, on bool) {
	if on == o.Visible() {
		return
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// adviceFor says what a step misses and what to do next.
func (w *Window) adviceFor(s step) advice {
	m := w.model
	if w.busy.under() && !m.traced() {
		return advice{text: lang.L("The photograph is being read. Stop, at the foot of the window, ends it.")}
	}
	if m.fault.why != "" && m.fault.step == s {
		return w.adviceAfterFault(s)
	}
	photo := len(m.job.Photo) > 0
	if !m.traced() {
		return w.adviceBefore(s, photo)
	}
	return w.adviceThen(s, photo)
}

// onward leads to another step.
func (w *Window) onward(text string, s step) advice {
	return advice{text: text, action: phrase("{{.Step}} ›", "Step", s.title()), do: func() { w.showStep(s) }}
}

// adviceBefore is for a bench without a pattern.
func (w *Window) adviceBefore(s step, photo bool) advice {
	switch {
	case !photo && s == stepPhoto:
		return advice{text: lang.L("Photograph the piece with a printed board beside it, then open the photograph here.")}
	case !photo:
		return w.onward(lang.L("This step needs a photograph first."), stepPhoto)
	case s == stepScale || s == stepOutline:
		return advice{text: lang.L("Nothing is measured yet."), action: lang.L("Trace"), do: w.retrace}
	case s == stepPhoto:
		return advice{text: lang.L("The photograph is open."), action: lang.L("Trace"), do: w.retrace}
	}
	return w.onward(lang.L("This step needs a traced photograph first."), stepScale)
}

// adviceThen is for a bench with a pattern.
func (w *Window) adviceThen(s step, photo bool) advice {
	switch s {
	case stepPhoto:
		if !photo {
			return w.onward(lang.L("This is a pattern alone, without a photograph."), stepPattern)
		}
		return w.onward(lang.L("The photograph is traced. See what the scale rests on."), stepScale)
	case stepScale:
		return w.onward(lang.L("Say below how the piece lay, and what you measured by hand. Then look at the outline."), stepOutline)
	case stepOutline:
		return w.onward(lang.L("Look along the light line: does it follow the wood, and not its shadow?"), stepPattern)
	case stepPattern:
		if n := len(w.model.weakOnes()); n > 0 {
			return advice{text: counted("{{.N}} elements have weak numbers. Look at them before you trust the stick.", n), action: lang.L("Next weak one"), do: w.model.nextWeak}
		}
		return w.onward(lang.L("Every number is good. Put right what you know better, then print."), stepStick)
	case stepStick:
		return w.onward(lang.L("Write the sheets, print them at 100 % and measure the check bar. Then turn."), stepCopies)
	}
	return advice{text: lang.L("Write the plan, turn, and hold each copy against the original.")}
}

// adviceAfterFault says what went wrong, with what helps.
func (w *Window) adviceAfterFault(s step) advice {
	a := advice{text: w.model.fault.why, wrong: true}
	if len(w.model.job.Photo) == 0 {
		return a
	}
	switch s {
	case stepScale:
		a.action, a.do = lang.L("Mark two graduations…"), w.markRule
	case stepOutline:
		a.action, a.do = lang.L("Mark the two ends…"), w.markEnds
	}
	return a
}

// retrace traces the photograph on the bench with what is known of it.
func (w *Window) retrace() { w.trace(w.model.job.Photo, w.model.job.PhotoName, w.model.job.Hints) }
