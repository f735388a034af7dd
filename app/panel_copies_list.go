package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/check"
)

// newList shows how every copy stands; picking one chooses it.
func (c *copies) newList() *widget.List {
	l := widget.NewList(func() int { return len(c.set().Copies) },
		newCell,
		func(i widget.ListItemID, o fyne.CanvasObject) {
			l := cellLabel(o)
			l.TextStyle.Bold = i == c.chosen
			l.SetText(c.standing(i))
		})
	l.OnSelected = func(i widget.ListItemID) {
		c.look(i)
		l.UnselectAll()
		l.Refresh()
	}
	return l
}

// standing says in a line how a copy stands.
func (c *copies) standing(i int) string {
	all := c.set().Copies
	if i >= len(all) {
		return ""
	}
	if i >= len(c.reports) {
		return all[i].Name
	}
	r := c.reports[i]
	n, of := r.Measured()
	return phrase("{{.Name}}: {{.Done}} of {{.All}}, {{.Verdict}}", "Name", r.Copy.Name, "Done", n, "All", of, "Verdict", lang.L(string(r.Standing())))
}

// rows are the places of the copy chosen.
func (c *copies) rows() []check.Row {
	if c.chosen >= len(c.reports) {
		return nil
	}
	return c.reports[c.chosen].Stations
}

// checkColumns are the columns of the table of a copy.
func checkColumns() []string {
	return []string{"", lang.L("at"), lang.L("what"), lang.L("original"), lang.L("copy"), lang.L("differs"), lang.L("take off"), lang.L("verdict"), "±"}
}

// checkCells are a row's cells; what is not measured or not judged stays empty.
func checkCells(r check.Row, u profile.Unit) []string {
	fine := u
	if u == profile.Fraction {
		fine = profile.Inch // differences are smaller than a 64th
	}
	out := []string{"", length(r.X, u), whatWords(r), length(r.Original, u), "", "", "", lang.L(string(r.Verdict)), ""}
	const copied, differs, off, bound = 4, 5, 6, 8
	if r.Number > 0 {
		out[0] = number(r.Number)
	}
	if !r.Absent {
		out[copied] = length(r.Copy, u)
	}
	if r.Verdict.Claims() {
		out[differs], out[bound] = length(r.Deviation, fine), length(r.U, fine)
		if r.Deviation > 0 {
			out[differs] = "+" + out[differs]
		}
	}
	switch {
	case r.TakeOff() > 0:
		out[off] = length(r.TakeOff(), fine)
	case r.Lost():
		out[off] = lang.L("too thin")
	}
	return out
}

func (c *copies) newTable() *widget.Table {
	titles := checkColumns()
	t := widget.NewTableWithHeaders(func() (int, int) { return len(c.rows()), len(titles) },
		newCell,
		func(id widget.TableCellID, o fyne.CanvasObject) {
			rows := c.rows()
			l := cellLabel(o)
			if id.Row >= len(rows) {
				l.SetText("")
				return
			}
			l.TextStyle.Bold = rows[id.Row].Verdict == check.Outside
			l.Importance = widget.MediumImportance
			if c.gauged() && id.Row == c.place {
				l.Importance = widget.HighImportance
			}
			l.SetText(checkCells(rows[id.Row], c.window.model.unit)[id.Col])
		})
	t.ShowHeaderColumn = false
	t.CreateHeader = newCell
	t.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		if id.Col >= 0 {
			cellLabel(o).SetText(titles[id.Col])
		}
	}
	for i, width := range []float32{26, 54, 96, 60, 50, 58, 58, 104, 52} {
		t.SetColumnWidth(i, width)
	}
	t.OnSelected = func(id widget.TableCellID) {
		if id.Row >= 0 && c.gauged() {
			c.place = id.Row
			c.showPlace()
			c.focus()
		}
		t.UnselectAll()
	}
	return t
}

// verdictWords counts the verdicts.
func verdictWords(rows []check.Row) string {
	count := map[check.Verdict]int{}
	for _, r := range rows {
		count[r.Verdict]++
	}
	out := ""
	for _, v := range check.Verdicts() {
		if count[v] == 0 {
			continue
		}
		if out != "" {
			out += ", "
		}
		out += number(count[v]) + " " + lang.L(string(v))
	}
	return out
}
