package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
	"gonum.org/v1/gonum/spatial/r2"
)

// Window is the program's window.
type Window struct {
	services Services
	win      fyne.Window
	app      fyne.App

	model     *model
	tracks    *tracks
	picture   *picture
	panels    [stepCount]fyne.CanvasObject
	advices   [stepCount]*adviceRow
	steps     *stepRow
	status    *widget.Label
	line      *statusLine // on status
	busy      *busy
	menus     *menus
	preview   *preview
	copies    *copies
	planner   *planner
	originals *originals
	mender    *mender
	keeper    *keeper // nil = unsaved work is not kept
}

// Name is the program's name, as windows and menus show it.
const Name = "Spindlestick"

// New makes the window, empty. Show it with Run.
func New(a fyne.App, s Services) (*Window, error) {
	if err := speak(); err != nil {
		return nil, err
	}
	a.Settings().SetTheme(newLook())
	w := &Window{services: s, app: a, win: a.NewWindow(Name), model: newModel(), status: widget.NewLabel("")}
	w.line = &statusLine{label: w.status}
	w.status.Truncation = fyne.TextTruncateEllipsis
	w.model.unit = w.unitSetting()
	var err error
	if w.tracks, err = newTracks(w.model, w.say); err != nil {
		return nil, err
	}
	if w.picture, err = newPicture(w.say); err != nil {
		return nil, err
	}
	w.busy = newBusy()
	w.build()
	return w, nil
}

func (w *Window) build() {
	w.panels = [stepCount]fyne.CanvasObject{
		stepPhoto: w.photoPanel(), stepScale: w.scalePanel(), stepOutline: w.outlinePanel(),
		stepPattern: w.patternPanel(), stepStick: w.stickPanel(), stepCopies: w.copiesPanel(),
	}
	side := container.NewStack()
	for i, p := range w.panels {
		if step(i) != stepPattern && step(i) != stepCopies { // those hold a table that scrolls by itself
			p = container.NewVScroll(p)
		}
		w.panels[i] = w.withAdvice(step(i), p)
		side.Add(w.panels[i])
	}
	w.steps = newStepRow(w.model, w.line, w.showStep)
	w.showStep(stepPhoto)
	bench := container.NewStack(w.tracks, w.picture)
	body := container.NewHSplit(bench, side)
	body.Offset = 0.6
	bottom := container.NewBorder(nil, nil, nil, w.busy.content, w.status)
	w.win.SetContent(container.NewBorder(w.steps.content, bottom, nil, nil, body))
	w.menus = w.newMenus()
	w.model.watch(w.retitle)
	w.model.watch(func() { w.picture.take(w.model.job.Sighting, w.model.job.Hints) })
	w.busy.changed = w.refreshAdvice
	w.watchUnsaved()
	w.win.SetOnDropped(w.dropped)
	w.win.SetCloseIntercept(w.closing)
	w.win.Resize(w.savedSize())
	w.showPicture(false)
	w.retitle()
}

// Run shows the window until it is closed. path is a photograph or a job to open; empty = none.
func (w *Window) Run(path string) {
	w.app.Lifecycle().SetOnStarted(func() {
		if path != "" {
			w.open(path)
			return
		}
		w.offerUnsaved()
	})
	w.win.ShowAndRun()
}

// showStep shows one step's panel.
func (w *Window) showStep(s step) {
	w.steps.mark(s)
	if s != stepOutline {
		w.mender.putAway()
	}
	switch s {
	case stepStick:
		w.preview.refresh()
	case stepCopies:
		w.planner.refresh()
		w.copies.refresh()
		w.originals.refresh()
	}
	for i, p := range w.panels {
		if step(i) == s {
			p.Show()
		} else {
			p.Hide()
		}
	}
}

// showPicture shows the whole photograph in place of the tracks; without a pattern there is nothing else to show.
func (w *Window) showPicture(on bool) {
	if on || !w.model.traced() {
		w.picture.Show()
		w.tracks.Hide()
		return
	}
	w.picture.Hide()
	w.tracks.Show()
}

// ask shows the whole photograph and takes two marks on it.
func (w *Window) ask(prompt string, done func(a, b r2.Vec)) {
	if len(w.model.job.Photo) == 0 {
		w.say(lang.L("Open a photograph first."))
		return
	}
	w.showPicture(true)
	w.picture.ask(prompt, done)
}

// say writes the status line.
func (w *Window) say(text string) { w.line.say(text) }

func (w *Window) retitle() {
	title := w.model.job.Title
	if title == "" {
		title = Name
	} else {
		title += " - " + Name
	}
	if w.model.dirty() {
		title = "• " + title
	}
	w.win.SetTitle(title)
}

func (w *Window) canvasFocus() fyne.Focusable { return w.win.Canvas().Focused() }

// patternPanel holds the element table and what edits an element.
func (w *Window) patternPanel() fyne.CanvasObject {
	e := newEditor(w.model, w.say, w.tracks.focus)
	e.tell(w.line)
	table := newTable(w.model, func(col int) { w.editNumber(e, col) })
	// What is unfolded scrolls, so that the window never outgrows the screen.
	return container.NewVSplit(container.NewVScroll(container.NewVBox(e.content, w.patternTools())), table)
}

// editNumber gives the keyboard to the editor's field for a column of the table, or back to the tracks.
func (w *Window) editNumber(e *editor, col int) {
	field := e.field(col)
	if field == nil || field.Disabled() {
		w.tracks.focus()
		return
	}
	w.win.Canvas().Focus(field)
	// The press that led here takes the focus to the table when it ends.
	w.services.after(focusAgain, func() { w.win.Canvas().Focus(field) })
}
