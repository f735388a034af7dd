package app

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
)

// rounder chooses the sizes that sheets and plans show, and lists what that changes. The bench goes on showing what was
// measured.
type rounder struct {
	window *Window
	choice *hintSelect
	note   *widget.Label
	list   *widget.Label
	more   *widget.Accordion
	text   string
}

func newRounder(w *Window) *rounder {
	r := &rounder{window: w, note: paragraph(""), list: widget.NewLabel("")}
	words := []string{lang.L("as measured")}
	for _, step := range profile.Roundings() {
		words = append(words, local(step.Words()))
	}
	r.choice = w.line.choice(words, lang.L("Sizes on the sheets and in the plan. The overall length stays, what is equal stays equal, and the bench keeps what was measured."), nil)
	r.choice.SetSelectedIndex(0)
	r.choice.OnChanged = func(string) { r.choose() }
	r.list.TextStyle.Monospace = true
	scroll := container.NewScroll(r.list)
	scroll.SetMinSize(fyne.NewSize(0, 160))
	r.more = widget.NewAccordion(widget.NewAccordionItem(lang.L("Every change"), scroll))
	w.model.watch(r.refresh)
	r.refresh()
	return r
}

// choose puts the chosen step in force, as one step that can be undone.
func (r *rounder) choose() {
	m := r.window.model
	step := profile.AsMeasured
	if i := r.choice.SelectedIndex(); i > 0 {
		step = profile.Roundings()[i-1]
	}
	if step == m.job.Rounding {
		return
	}
	m.job.Rounding = step
	m.history.Do(lang.L("change the workshop sizes"), "", m.job)
	m.changed()
}

// refresh shows the step in force and what it changes.
func (r *rounder) refresh() {
	m := r.window.model
	index := 0
	for i, step := range profile.Roundings() {
		if step == m.job.Rounding {
			index = i + 1
		}
	}
	if r.choice.SelectedIndex() != index {
		r.choice.SetSelectedIndex(index)
	}
	note, text := r.report()
	if r.note.Text != note {
		r.note.SetText(note)
	}
	if r.text != text {
		r.text = text
		r.list.SetText(text)
	}
	setVisible(r.note, note != "")
	setVisible(r.more, text != "")
}

// report says what the rounding changes: in one sentence, and number by number.
func (r *rounder) report() (note, list string) {
	m := r.window.model
	if m.job.Rounding == profile.AsMeasured || !m.traced() {
		return "", ""
	}
	_, moved, err := m.job.Workshop()
	if err != nil {
		return plainly(err), ""
	}
	note = phrase("Largest change {{.By}}.", "By", uncertainty(profile.Largest(moved), m.unit)+" "+m.unit.Suffix())
	more := 0
	for _, c := range moved {
		if c.Cause != profile.ByStep {
			more++
		}
		list += m.movedWords(c) + "\n"
	}
	if more > 0 {
		note += " " + counted("{{.N}} changes are more than half a step, so that what is equal stays equal and nothing vanishes.", more)
	}
	return note, list
}

// movedWords is one line of the report.
func (m *model) movedWords(c profile.Moved) string {
	spot := map[profile.Spot]string{"": lang.L("from"), profile.NearEnd: lang.L("starts"), profile.Middle: lang.L("middle"), profile.FarEnd: lang.L("ends")}[c.Spot]
	cause := map[profile.Cause]string{profile.ByStep: "", profile.ByTie: lang.L("tied"), profile.ByRoom: lang.L("for room"), profile.ByShape: lang.L("its arc")}[c.Cause]
	unit := m.unit
	if unit == profile.Fraction {
		unit = profile.Inch // the changes are finer than fractions
	}
	kind := lang.L(string(m.pattern().Elements[c.Element].Kind))
	return fmt.Sprintf("%3d %-10s %-8s %8s → %8s  %s", c.Element+1, kind, spot, length(c.From, unit), length(c.To, unit), cause)
}

// workshop is the pattern as sheets and plans show it. One that cannot be rounded is shown as measured; the panel says why.
func (m *model) workshop() profile.Pattern {
	p, _, err := m.job.Workshop()
	if err != nil {
		return m.pattern()
	}
	return p
}

// workshopNote is what the sheets say of their sizes; nothing where they are as measured.
func (m *model) workshopNote() []string {
	_, moved, err := m.job.Workshop()
	if err != nil || m.job.Rounding == profile.AsMeasured {
		return nil
	}
	return []string{profile.RoundingNote(m.job.Rounding, moved, m.unit)}
}
