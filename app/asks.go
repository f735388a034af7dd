package app

import (
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
)

// question is a dialog of our own: a title, content, and buttons. Esc closes it, Enter presses the highlighted button.
type question struct {
	d    dialog.Dialog
	prev func(*fyne.KeyEvent)
	win  fyne.Window
	main *widget.Button // what Enter presses; nil = nothing

	closed bool
}

func (w *Window) newQuestion(title string, content fyne.CanvasObject, buttons ...*widget.Button) *question {
	q := &question{win: w.win}
	row := container.NewHBox(widget.NewButton(lang.L("Cancel"), q.close))
	for _, b := range buttons {
		row.Add(b)
		if b.Importance == widget.HighImportance {
			q.main = b
		}
	}
	return q.show(title, content, row)
}

// newReading is a dialog that asks nothing.
func (w *Window) newReading(title string, content fyne.CanvasObject) *question {
	q := &question{win: w.win}
	return q.show(title, content, container.NewHBox(widget.NewButton(lang.L("Close"), q.close)))
}

func (q *question) show(title string, content, row fyne.CanvasObject) *question {
	d := dialog.NewCustomWithoutButtons(title, container.NewBorder(nil, container.NewCenter(row), nil, nil, content), q.win)
	q.d = d
	q.prev = q.win.Canvas().OnTypedKey()
	q.win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) {
		switch e.Name {
		case fyne.KeyEscape:
			q.close()
		case fyne.KeyReturn, fyne.KeyEnter:
			if q.main != nil {
				q.main.OnTapped()
			}
		}
	})
	d.Show()
	return q
}

// open reports whether the question is still being asked.
func (q *question) open() bool { return !q.closed }

func (q *question) close() {
	q.closed = true
	q.win.Canvas().SetOnTypedKey(q.prev)
	q.d.Hide()
}

// askText asks for one text. accept returns an error to keep the question open with the reason under the field.
func (w *Window) askText(title string, entry *hintEntry, accept func() error) {
	reason := paragraph("")
	var q *question
	done := func() {
		if err := accept(); err != nil {
			reason.SetText(err.Error())
			return
		}
		q.close()
	}
	ok := widget.NewButton(lang.L("OK"), done)
	ok.Importance = widget.HighImportance
	entry.OnSubmitted = func(string) { done() }
	entry.leave = func() { q.close() }
	wide := container.NewGridWrap(fyne.NewSize(420, entry.MinSize().Height), entry)
	q = w.newQuestion(title, container.NewVBox(wide, reason), ok)
	w.win.Canvas().Focus(entry)
	// The press that led here may still be under way, and takes the focus off again when it ends.
	w.services.after(focusAgain, func() {
		if q.open() {
			w.win.Canvas().Focus(entry)
		}
	})
}

// focusAgain is longer than a toolkit takes to end a press, and shorter than a hand takes to reach the keys.
const focusAgain = 100 * time.Millisecond

// askFile asks where to write a file. The folder is chosen in a dialog, the name typed; nothing is touched until the file
// is written whole.
func (w *Window) askFile(title, name, ending string, then func(path string)) {
	entry := w.line.entry("")
	entry.SetText(filepath.Join(w.folder(), name))
	asked := ""
	w.askText(title, entry, func() error {
		path := strings.TrimSpace(entry.Text)
		if !strings.EqualFold(filepath.Ext(path), ending) {
			path += ending
		}
		if _, err := os.Stat(path); err == nil && asked != path {
			asked = path
			return errorText(lang.L("There is a file of that name. OK once more replaces it."))
		}
		if _, err := os.Stat(filepath.Dir(path)); err != nil {
			return errorText(phrase("There is no folder {{.Folder}}.", "Folder", filepath.Dir(path)))
		}
		w.app.Preferences().SetString("folder", filepath.Dir(path))
		then(path)
		return nil
	})
}

// errorText is an error for people, shown as it is.
type errorText string

func (e errorText) Error() string { return string(e) }

// askSave asks what becomes of unsaved work before f.
func (w *Window) askSave(f func()) {
	var q *question
	save := widget.NewButton(lang.L("Save"), func() {
		q.close()
		if w.model.path != "" {
			w.saveTo(w.model.path, f)
			return
		}
		w.askFile(lang.L("Save the job"), w.fileName(".turning"), ".turning", func(path string) { w.saveTo(path, f) })
	})
	save.Importance = widget.HighImportance
	drop := widget.NewButton(lang.L("Leave it unsaved"), func() {
		q.close()
		f()
	})
	q = w.newQuestion(lang.L("This job has changes that no file holds."), widget.NewLabel(w.model.job.Title), drop, save)
}
