package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
)

// step is one stage of the job, in order along the top.
type step int

const (
	stepPhoto step = iota
	stepScale
	stepOutline
	stepPattern
	stepStick
	stepCopies
	stepCount
)

func (s step) title() string {
	return [...]string{lang.L("Photo"), lang.L("Scale"), lang.L("Outline"), lang.L("Pattern"), lang.L("Stick"), lang.L("Copies")}[s]
}

// hint says what a step is for.
func (s step) hint() string {
	return [...]string{
		lang.L("Open a photograph, and how to take one that measures well."), lang.L("What the measures rest on: boards, a rule, sizes you took by hand, and how the piece lay."),
		lang.L("The edges that were found, and what puts them right."), lang.L("The elements with their stations and diameters: correct what you know better."),
		lang.L("The sheets to print: story stick, drawing, template, table."), lang.L("The plan for turning, and each copy held against the original."),
	}[s]
}

// stepRow is the row along the top: what each step has or misses, and which one's panel is shown.
type stepRow struct {
	content fyne.CanvasObject
	model   *model
	titles  [stepCount]*hintButton
	unders  [stepCount]*widget.Label
	lines   [stepCount]*canvas.Rectangle
	shown   step
}

func newStepRow(m *model, line *statusLine, show func(step)) *stepRow {
	r := &stepRow{model: m}
	row := container.NewGridWithColumns(int(stepCount))
	for s := step(0); s < stepCount; s++ {
		title := line.button(number(int(s)+1)+"   "+s.title(), s.hint(), func() { show(s) })
		title.Alignment = widget.ButtonAlignLeading
		title.Importance = widget.LowImportance
		under := widget.NewLabel("")
		under.Truncation = fyne.TextTruncateEllipsis
		rule := canvas.NewRectangle(colour{})
		rule.SetMinSize(fyne.NewSize(0, 3))
		r.titles[s], r.unders[s], r.lines[s] = title, under, rule
		// The words beside the title take no presses, so the button beneath gets them.
		ground := newPad(line, s.hint(), func() { show(s) })
		row.Add(container.NewStack(ground, container.NewBorder(nil, rule, title, nil, under)))
	}
	r.content = row
	m.watch(r.refresh)
	r.refresh()
	return r
}

// mark shows which step's panel is open.
func (r *stepRow) mark(s step) {
	r.shown = s
	r.refresh()
}

func (r *stepRow) refresh() {
	c := paletteFor(fyne.CurrentApp().Settings().ThemeVariant())
	next := r.model.next()
	for s := step(0); s < stepCount; s++ {
		text, done := r.model.state(s)
		r.unders[s].SetText(text)
		importance := widget.LowImportance
		if !done && next == s {
			importance = widget.HighImportance // the next thing to do
		}
		if r.titles[s].Importance != importance {
			r.titles[s].Importance = importance
			r.titles[s].Refresh()
		}
		r.lines[s].FillColor = faded(c.ink, 0.18)
		if s == r.shown {
			r.lines[s].FillColor = c.chosen
		}
		r.lines[s].Refresh()
	}
}
