package app

import (
	"strings"

	"fyne.io/fyne/v2/lang"
)

// copyTable puts the element table on the clipboard as tab separated text, which spreadsheets take as cells.
func (w *Window) copyTable() {
	p := w.model.pattern()
	if len(p.Elements) == 0 {
		w.say(lang.L("There is no table to copy yet."))
		return
	}
	w.app.Clipboard().SetContent(tableText(w.model))
	w.say(counted("Copied {{.N}} elements.", len(p.Elements)))
}

func tableText(m *model) string {
	p := m.pattern()
	cols := columns()
	var b strings.Builder
	row := func(cell func(c column) string) {
		for i, c := range cols {
			if i > 0 {
				b.WriteByte('\t')
			}
			b.WriteString(cell(c))
		}
		b.WriteByte('\n')
	}
	row(func(c column) string { return c.title })
	for i, e := range p.Elements {
		row(func(c column) string { return c.cell(i, e, m) })
	}
	return b.String()
}
