package app

import (
	"spindlestick/app/job"
	"spindlestick/profile"

	"fyne.io/fyne/v2/lang"
)

// model is what the window shows: a job, its history, and what is selected. It knows no widgets; whoever shows it asks to be
// told of changes. It is used on the UI goroutine only.
type model struct {
	job      job.Job // the version in force
	history  *job.History[job.Job]
	path     string // the job's file; empty = never saved
	unit     profile.Unit
	selected int     // element; -1 = none
	cursor   float64 // station last pointed at, mm: where Split cuts

	fault fault      // of the last trace
	weak  []weakness // of the elements; nil = to be worked out

	watchers []func()
}

func newModel() *model {
	return &model{history: job.NewHistory(job.Job{}), unit: profile.MM, selected: -1}
}

// watch calls f after every change.
func (m *model) watch(f func()) { m.watchers = append(m.watchers, f) }

func (m *model) changed() {
	m.weak = nil
	for _, f := range m.watchers {
		f()
	}
}

// load puts another job on the bench. fresh says that it is not in a file yet.
func (m *model) load(j job.Job, path string, fresh bool) {
	m.job, m.path, m.fault = j, path, fault{}
	m.history = job.NewHistory(j)
	if fresh {
		m.history.MarkUnsaved()
	}
	m.selected, m.cursor = -1, 0
	m.changed()
}

// replace takes a job of the same photograph, as one step that can be undone.
func (m *model) replace(name string, j job.Job) {
	m.job, m.fault = j, fault{}
	m.history.Do(name, "", j)
	m.selected, m.cursor = -1, 0
	m.changed()
}

// pattern is the pattern in force.
func (m *model) pattern() profile.Pattern { return m.job.Pattern }

// traced reports whether there is a pattern.
func (m *model) traced() bool { return len(m.pattern().Elements) > 0 }

// rename changes the title; typing it is one step.
func (m *model) rename(title string) {
	if title == m.job.Title {
		return
	}
	m.job.Title = title
	m.history.Do(lang.L("change the title"), "title", m.job)
	m.changed()
}

// edit changes the pattern by an operation. name follows "Undo" in the menu; changes with one key in a row are one step.
func (m *model) edit(name, key string, op func(profile.Pattern) (profile.Pattern, error)) error {
	p, err := op(m.pattern())
	if err != nil {
		return err
	}
	m.job.Pattern = p
	m.history.Do(name, key, m.job)
	m.selected = min(m.selected, len(p.Elements)-1)
	m.changed()
	return nil
}

// seal ends a drag, so that the next one is a step of its own.
func (m *model) seal() { m.history.Seal() }

func (m *model) undo() {
	if m.history.Undo() {
		m.afterStep()
	}
}

func (m *model) redo() {
	if m.history.Redo() {
		m.afterStep()
	}
}

func (m *model) afterStep() {
	m.job = m.history.Value()
	m.selected = min(m.selected, len(m.pattern().Elements)-1)
	m.changed()
}

func (m *model) selectElement(i int) {
	if i < -1 || i >= len(m.pattern().Elements) || i == m.selected {
		return
	}
	m.selected = i
	m.changed()
}

// element returns the selected element.
func (m *model) element() (profile.Element, bool) {
	if m.selected < 0 || m.selected >= len(m.pattern().Elements) {
		return profile.Element{}, false
	}
	return m.pattern().Elements[m.selected], true
}

func (m *model) saved(path string) {
	m.path = path
	m.history.MarkSaved()
	m.changed()
}

// dirty reports whether there is work that no file holds.
func (m *model) dirty() bool { return m.history.Dirty() && (m.traced() || len(m.job.Photo) > 0) }
