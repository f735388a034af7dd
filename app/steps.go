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

// stepRow is the row along the top: what each step has or misses, and which one's panel is shown.
type stepRow struct {
	content fyne.CanvasObject
	model   *model
	titles  [stepCount]*widget.Button
	unders  [stepCount]*widget.Label
	lines   [stepCount]*canvas.Rectangle
	shown   step
}

func newStepRow(m *model, show func(step)) *stepRow {
	r := &stepRow{model: m}
	row := container.NewGridWithColumns(int(stepCount))
	for s := step(0); s < stepCount; s++ {
		title := widget.NewButton(number(int(s)+1)+"   "+s.title(), func() { show(s) })
		title.Alignment = widget.ButtonAlignLeading
		title.Importance = widget.LowImportance
		under := widget.NewLabel("")
		under.Truncation = fyne.TextTruncateEllipsis
		line := canvas.NewRectangle(colour{})
		line.SetMinSize(fyne.NewSize(0, 3))
		r.titles[s], r.unders[s], r.lines[s] = title, under, line
		// The words beside the title take no presses, so the button beneath gets them.
		ground := widget.NewButton("", func() { show(s) })
		ground.Importance = widget.LowImportance
		row.Add(container.NewStack(ground, container.NewBorder(nil, line, title, nil, under)))
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
