package app

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/app/job"
	"spindlestick/profile/view"
)

// mender is the part of the outline's panel that puts the outline right by hand.
type mender struct {
	w       *Window
	tools   []*hintButton
	chosen  int // of tools; -1 = none
	width   *widget.Slider
	back    *hintButton
	clear   *hintButton
	made    *widget.Label
	lies    *hintSelect // how a square lies
	degrees *hintEntry
	content fyne.CanvasObject
	// asked are the corrections under way: strokes that follow before the piece is measured add to them.
	asked   []view.Correction
	waiting bool
}

// mendTool is one way to put the outline right.
type mendTool struct {
	label, prompt string
	brush         bool
	correct       func(path []r2.Vec) (view.Correction, error)
	name          string // of the step, after "Undo"
}

// The brush's width, photo px.
const leastBrush, mostBrush, firstBrush = 8, 240, 48

func (w *Window) newMender() *mender {
	m := &mender{w: w, chosen: -1, made: paragraph("")}
	m.width = widget.NewSlider(leastBrush, mostBrush)
	m.width.SetValue(firstBrush)
	m.lies = w.line.choice([]string{lang.L("flat on"), lang.L("corner on"), lang.L("turned by")}, lang.L("How the square that you mark next lay on the table."), func(string) { m.update() })
	m.degrees = w.line.entry(lang.L("By how many degrees the square is turned from lying flat."))
	m.degrees.SetPlaceHolder(local("22.5°"))
	m.lies.Selected = m.lies.Options[0]
	tools := m.all()
	grid := container.NewGridWithColumns(2)
	for i, t := range tools {
		b := w.line.button(t.label, t.prompt, func() { m.choose(i) })
		m.tools = append(m.tools, b)
		grid.Add(b)
	}
	m.back = w.line.button(lang.L("Take back the last"), lang.L("Takes back the correction made last."), func() { m.keep(-1) })
	m.clear = w.line.button(lang.L("Take back all"), lang.L("Goes back to the outline as it was found."), func() { m.keep(0) })
	grid.Add(m.back)
	grid.Add(m.clear)
	m.content = container.NewVBox(
		widget.NewLabelWithStyle(lang.L("Put right by hand"), fyne.TextAlignLeading, fyne.TextStyle{Bold: true}), grid,
		container.NewBorder(nil, nil, widget.NewLabel(lang.L("Brush")), nil, m.width),
		container.NewBorder(nil, nil, widget.NewLabel(lang.L("A square lies")), nil, container.NewGridWithColumns(2, m.lies, m.degrees)), m.made,
	)
	w.model.watch(m.update)
	m.update()
	return m
}

func (m *mender) all() []mendTool {
	return []mendTool{
		{
			label: lang.L("Pass over"), prompt: lang.L("Brush over what is not the piece's edge: a chip, a hand, a shadow. The other side stands in for it."),
			brush: true, name: lang.L("pass over part of the outline"),
			correct: func(path []r2.Vec) (view.Correction, error) {
				return view.Correction{Kind: view.Ignore, Path: path, Width: m.width.Value}, nil
			},
		},
		{
			label: lang.L("Draw the edge"), prompt: lang.L("Draw along the edge where it should run. It settles on the edge in the photograph."),
			name: lang.L("draw an edge"), correct: m.drawn,
		},
		{
			label: lang.L("Trust one side"), prompt: lang.L("Draw along the side to trust, as far as it is to be trusted. The other side is passed over there."),
			name: lang.L("trust one side"),
			correct: func(path []r2.Vec) (view.Correction, error) {
				ends := []r2.Vec{path[0], path[len(path)-1]}
				return view.Correction{Kind: view.TrustSide, Path: ends, Side: m.sideOf(path)}, nil
			},
		},
		{
			label: lang.L("Mark a square"), prompt: lang.L("Draw along the stretch that is square. Its edges are followed to where they end."),
			name: lang.L("mark a square"), correct: m.square,
		},
	}
}

// choose takes a tool into the hand, or puts the one in the hand away.
func (m *mender) choose(i int) {
	if m.chosen == i {
		m.putAway()
		m.w.showPicture(true)
		m.w.say(lang.L("Drags move the photograph again."))
		return
	}
	m.chosen = i
	m.update()
	t := m.all()[i]
	m.w.showPicture(true)
	m.w.say(t.prompt)
	width := func() float64 { return 0 }
	if t.brush {
		width = func() float64 { return m.width.Value }
	}
	m.w.picture.draw(&stroker{width: width, done: func(path []r2.Vec) { m.stroke(t, path) }})
}

// putAway leaves the hand without a tool.
func (m *mender) putAway() {
	if m.chosen >= 0 {
		m.chosen = -1
		m.w.picture.draw(nil)
		m.w.showPicture(false)
		m.update()
	}
}

// stroke makes a correction of a stroke.
func (m *mender) stroke(t mendTool, path []r2.Vec) {
	c, err := t.correct(path)
	if err != nil {
		m.w.say(plainly(err))
		return
	}
	m.apply(t.name, append(slices.Clone(m.corrections()), c))
}

// corrections are those in force or under way.
func (m *mender) corrections() []view.Correction {
	if m.waiting {
		return m.asked
	}
	return m.w.model.job.Hints.Corrections
}

// keep keeps the first n corrections; -1 keeps all but the last.
func (m *mender) keep(n int) {
	cs := m.corrections()
	if len(cs) == 0 {
		return
	}
	if n < 0 {
		n = len(cs) - 1
	}
	m.apply(lang.L("take back a correction of the outline"), slices.Clone(cs[:n]))
}

// apply shows the outline as corrected at once, and measures the piece anew beside the window.
func (m *mender) apply(name string, cs []view.Correction) {
	j := m.w.model.job
	j.Hints.Corrections = cs
	m.w.picture.take(j.Sighting, j.Hints)
	m.asked, m.waiting = cs, true
	m.update()
	m.w.remeasure(name, j, func() {
		m.asked, m.waiting = nil, false
		m.update()
	})
}

// drawn lays a line drawn by hand onto the edge.
func (m *mender) drawn(path []r2.Vec) (view.Correction, error) {
	if m.w.picture.photo == nil {
		return view.Correction{}, errorText(lang.L("Open a photograph first."))
	}
	axis := m.axis()
	mid := path[len(path)/2]
	d := r2.Sub(axis[1], axis[0])
	foot := r2.Add(axis[0], r2.Scale(r2.Dot(r2.Sub(mid, axis[0]), d)/r2.Norm2(d), d))
	pts, err := m.w.services.Tracer.Snap(m.w.picture.photo.whole(), path, foot)
	if err != nil {
		return view.Correction{}, err
	}
	return view.Correction{Kind: view.Redraw, Path: []r2.Vec{path[0], path[len(path)-1]}, Side: m.sideOf(path), Points: pts}, nil
}

// square marks the stretch that a stroke spans as square.
func (m *mender) square(path []r2.Vec) (view.Correction, error) {
	c := view.Correction{Kind: view.MarkSquare, Path: []r2.Vec{path[0], path[len(path)-1]}}
	switch m.lies.SelectedIndex() {
	case 1:
		c.Turn = math.Pi / 4
	case 2:
		deg, err := parseNumber(strings.TrimRight(m.degrees.Text, " °"))
		if err != nil || math.Abs(deg) > 90 {
			return c, errorText(lang.L("Say by how many degrees the square is turned from lying flat, 90 at most."))
		}
		c.Turn = deg * math.Pi / 180
	}
	return c, nil
}

func (m *mender) axis() [2]r2.Vec { return m.w.model.job.Sighting.Outline.Axis }

// sideOf is the side of the axis that a path's middle lies on.
func (m *mender) sideOf(path []r2.Vec) int {
	a := m.axis()
	if r2.Cross(r2.Sub(a[1], a[0]), r2.Sub(path[len(path)/2], a[0])) > 0 {
		return 1 // y grows downward: right of the walk along the axis
	}
	return 0
}

func (m *mender) update() {
	cs := m.corrections()
	ready := len(m.w.model.job.Sighting.Outline.Sides[0]) > 0
	for i, b := range m.tools {
		want := widget.MediumImportance
		if i == m.chosen {
			want = widget.HighImportance
		}
		if b.Importance != want {
			b.Importance = want
			b.Refresh()
		}
		enable(b, ready)
	}
	enable(m.degrees, m.lies.SelectedIndex() == 2)
	enable(m.back, len(cs) > 0)
	enable(m.clear, len(cs) > 0)
	text := lang.L("Nothing of the outline is put right by hand.")
	if len(cs) > 0 {
		text = counted("{{.N}} corrections by hand.", len(cs))
	}
	if m.made.Text != text {
		m.made.SetText(text)
	}
}

// remeasure measures and fits the job's sighting anew beside the window, as one step called name. settled is called when
// that is done or has failed, not when other work takes its place.
func (w *Window) remeasure(name string, j job.Job, settled func()) {
	ctx, turn := w.busy.begin()
	w.services.start(func() {
		out, err := job.Measure(ctx, j, func(stage string, done float64) {
			fyne.Do(func() { w.busy.report(turn, stage, done) })
		})
		w.ended(turn, func() {
			settled()
			if err != nil {
				w.picture.take(w.model.job.Sighting, w.model.job.Hints)
				if !errors.Is(err, context.Canceled) {
					w.say(plainly(err))
				}
				return
			}
			w.model.replace(name, out)
			w.say(counted("{{.N}} elements found. Drag a line to move a station; click an element to change it.", len(out.Pattern.Elements)))
		})
	})
}
