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
	cell  func(i int, e profile.Element, u profile.Unit) string
}

func columns() []column {
	num := func(v float64, u profile.Unit) string { return length(v, u) }
	return []column{
		{"", 30, func(i int, _ profile.Element, _ profile.Unit) string { return number(i + 1) }},
		{lang.L("shape"), 78, func(_ int, e profile.Element, _ profile.Unit) string { return lang.L(string(e.Kind)) }},
		{lang.L("from"), 60, func(_ int, e profile.Element, u profile.Unit) string { return num(e.X0, u) }},
		{lang.L("to"), 60, func(_ int, e profile.Element, u profile.Unit) string { return num(e.X1, u) }},
		{lang.L("starts"), 55, func(_ int, e profile.Element, u profile.Unit) string { return num(e.D0, u) }},
		{lang.L("middle"), 58, func(_ int, e profile.Element, u profile.Unit) string {
			if _, d, ok := e.Mid(); ok {
				return num(d, u)
			}
			return ""
		}},
		{lang.L("ends"), 55, func(_ int, e profile.Element, u profile.Unit) string { return num(e.D1, u) }},
		{"±", 44, func(_ int, e profile.Element, u profile.Unit) string {
			if worst := max(e.U.D0, e.U.D1, e.U.Mid); worst > 0 {
				if u == profile.MM {
					return num(worst, u)
				}
				return num(worst, profile.Inch)
			}
			return ""
		}},
	}
}

// newTable shows the elements; picking a row selects its element on the tracks.
func newTable(m *model) *widget.Table {
	cols := columns()
	t := widget.NewTableWithHeaders(
		func() (int, int) { return len(m.pattern().Elements), len(cols) },
		func() fyne.CanvasObject {
			l := widget.NewLabel("")
			l.Truncation = fyne.TextTruncateEllipsis
			return l
		},
		func(id widget.TableCellID, o fyne.CanvasObject) {
			p := m.pattern()
			l := o.(*widget.Label)
			if id.Row >= len(p.Elements) {
				l.SetText("")
				return
			}
			l.TextStyle.Bold = id.Row == m.selected
			l.Alignment = fyne.TextAlignTrailing
			if id.Col == 1 {
				l.Alignment = fyne.TextAlignLeading
			}
			l.SetText(cols[id.Col].cell(id.Row, p.Elements[id.Row], m.unit))
		})
	t.ShowHeaderColumn = false
	t.CreateHeader = func() fyne.CanvasObject { return widget.NewLabel("") }
	t.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		if id.Col >= 0 {
			o.(*widget.Label).SetText(cols[id.Col].title)
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
	}
	shown := -1
	m.watch(func() {
		t.Refresh()
		if m.selected >= 0 && m.selected != shown {
			t.ScrollTo(widget.TableCellID{Row: m.selected})
		}
		shown = m.selected
	})
	return t
}
