package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
)

// column is one column of the element table.
type column struct {
	title string
	width float32
	cell  func(i int, e profile.Element, m *model) string
}

func columns() []column {
	num := func(title string, width float32, mm func(profile.Element) float64) column {
		return column{title, width, func(_ int, e profile.Element, m *model) string { return length(mm(e), m.unit) }}
	}
	return []column{
		{"", 28, func(i int, _ profile.Element, _ *model) string { return number(i + 1) }},
		{lang.L("shape"), 84, func(i int, _ profile.Element, m *model) string { return m.shapeWord(i) }},
		num(lang.L("from"), 57, func(e profile.Element) float64 { return e.X0 }),
		num(lang.L("to"), 57, func(e profile.Element) float64 { return e.X1 }),
		num(lang.L("starts"), 53, func(e profile.Element) float64 { return e.D0 }),
		{lang.L("middle"), 54, func(_ int, e profile.Element, m *model) string {
			if _, d, ok := e.Mid(); ok {
				return length(d, m.unit)
			}
			return ""
		}},
		num(lang.L("ends"), 53, func(e profile.Element) float64 { return e.D1 }),
		{"±", 42, func(_ int, e profile.Element, m *model) string {
			if worst := worstOf(e); worst > 0 {
				return uncertainty(worst, m.unit)
			}
			return ""
		}},
		{lang.L("state"), 68, func(i int, _ profile.Element, m *model) string { return m.weaknesses()[i].word }},
	}
}

// uncertainty writes a small length without its unit: fractions are too coarse for it.
func uncertainty(mm float64, u profile.Unit) string {
	if u == profile.Fraction {
		u = profile.Inch
	}
	return length(mm, u)
}

// newTable shows the elements; picking a row selects its element on the tracks, picking a number edits it.
func newTable(m *model, edit func(col int)) *widget.Table {
	cols := columns()
	t := widget.NewTableWithHeaders(
		func() (int, int) { return len(m.pattern().Elements), len(cols) },
		newCell,
		func(id widget.TableCellID, o fyne.CanvasObject) {
			p := m.pattern()
			l := cellLabel(o)
			if id.Row >= len(p.Elements) {
				l.SetText("")
				return
			}
			l.TextStyle.Bold = id.Row == m.selected
			l.Alignment = fyne.TextAlignTrailing
			l.Importance = widget.MediumImportance
			if wordy(id.Col) {
				l.Alignment = fyne.TextAlignLeading
			}
			if id.Col == len(cols)-1 {
				l.Importance = widget.WarningImportance
			}
			l.SetText(cols[id.Col].cell(id.Row, p.Elements[id.Row], m))
		})
	t.ShowHeaderColumn = false
	t.CreateHeader = newCell
	t.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		if l := cellLabel(o); id.Col >= 0 {
			l.Alignment = fyne.TextAlignTrailing
			if wordy(id.Col) {
				l.Alignment = fyne.TextAlignLeading
			}
			l.SetText(cols[id.Col].title)
		}
	}
	for i, c := range cols {
		t.SetColumnWidth(i, c.width)
	}
	t.OnSelected = func(id widget.TableCellID) {
		if id.Row >= 0 {
			m.selectElement(id.Row)
		}
		t.UnselectAll()
		edit(id.Col)
	}
	m.watch(func() {
		t.Refresh()
		if m.selected >= 0 {
			t.ScrollTo(widget.TableCellID{Row: m.selected})
		}
	})
	return t
}

// wordy reports whether a column holds words, which stand to the left, not figures.
func wordy(col int) bool { return col == 1 || col == len(columns())-1 }
