package app

import (
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/check"
	"spindlestick/profile/plan"
	"spindlestick/profile/sheet"
)

// copies is the last step: the plan for turning, and each copy checked against the piece on the bench.
type copies struct {
	window  *Window
	count   *widget.Entry
	wood    *widget.Select
	reports []check.Report
	table   *widget.Table
	summary *widget.Label
	report  *widget.Button
}

// anyWood is the choice that names no species.
const anyWood = "not said"

func (w *Window) copiesPanel() fyne.CanvasObject {
	c := &copies{window: w, count: widget.NewEntry(), summary: paragraph("")}
	c.count.SetText("1")
	woods := []string{lang.L(anyWood)}
	for _, s := range plan.Woods() {
		woods = append(woods, s.Name)
	}
	c.wood = widget.NewSelect(woods, func(string) {})
	c.wood.SetSelected(lang.L(anyWood))
	planned := widget.NewButton(lang.L("Write the plan…"), c.writePlan)
	compare := widget.NewButton(lang.L("Compare a copy…"), c.choose)
	compare.Importance = widget.HighImportance
	c.report = widget.NewButton(lang.L("Write the report…"), c.writeReport)
	c.report.Disable()
	c.table = c.newTable()
	update := func() {
		enable(planned, w.model.traced())
		enable(compare, w.model.traced())
	}
	w.model.watch(update)
	update()
	w.copies = c
	top := container.NewVBox(
		widget.NewForm(widget.NewFormItem(lang.L("How many"), c.count), widget.NewFormItem(lang.L("Wood"), c.wood)), planned,
		paragraph(lang.L("Stop the lathe to measure. A copy may be a job, a pattern or a photograph taken as this one was.")),
		container.NewGridWithColumns(2, compare, c.report), c.summary)
	return container.NewBorder(top, nil, nil, nil, c.table)
}

// rows are the stations of the last copy compared.
func (c *copies) rows() []check.Row {
	if len(c.reports) == 0 {
		return nil
	}
	return c.reports[len(c.reports)-1].Stations
}

// checkColumns are the columns of the table of a copy.
func checkColumns() []string {
	return []string{lang.L("at"), lang.L("what"), lang.L("original"), lang.L("copy"), lang.L("differs"), "±", lang.L("verdict")}
}

func checkCells(r check.Row, u profile.Unit) []string {
	if r.Absent {
		return []string{length(r.X, u), r.What, length(r.Original, u), "", "", "", lang.L(string(r.Verdict))}
	}
	fine := u
	if u == profile.Fraction {
		fine = profile.Inch // differences are smaller than a 64th
	}
	sign := ""
	if r.Deviation > 0 {
		sign = "+"
	}
	return []string{
		length(r.X, u), r.What, length(r.Original, u), length(r.Copy, u),
		sign + length(r.Deviation, fine), length(r.U, fine), lang.L(string(r.Verdict)),
	}
}

func (c *copies) newTable() *widget.Table {
	titles := checkColumns()
	t := widget.NewTableWithHeaders(func() (int, int) { return len(c.rows()), len(titles) },
		func() fyne.CanvasObject {
			l := widget.NewLabel("")
			l.Truncation = fyne.TextTruncateEllipsis
			return l
		},
		func(id widget.TableCellID, o fyne.CanvasObject) {
			rows := c.rows()
			l := o.(*widget.Label)
			if id.Row >= len(rows) {
				l.SetText("")
				return
			}
			l.TextStyle.Bold = rows[id.Row].Verdict == check.Outside
			l.SetText(checkCells(rows[id.Row], c.window.model.unit)[id.Col])
		})
	t.ShowHeaderColumn = false
	t.CreateHeader = func() fyne.CanvasObject { return widget.NewLabel("") }
	t.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		if id.Col >= 0 {
			o.(*widget.Label).SetText(titles[id.Col])
		}
	}
	for i, width := range []float32{54, 92, 58, 52, 54, 42, 112} {
		t.SetColumnWidth(i, width)
	}
	c.window.model.watch(t.Refresh)
	return t
}

// choose asks for a copy's file.
func (c *copies) choose() {
	c.window.chooseFile(append([]string{".turning", ".json"}, photoEndings()...), c.compare)
}

// compare lays a copy on the piece on the bench, beside the window.
func (c *copies) compare(path string) {
	w := c.window
	ctx, turn := w.busy.begin()
	original := check.Piece{Name: w.model.job.Title, Pattern: w.model.pattern(), Trace: w.model.job.Measurement.Trace}
	hints := w.model.job.Hints
	hints.Axis, hints.Rule = nil, nil // those marks belong to the other photograph
	w.services.start(func() {
		j, err := w.readPiece(ctx, turn, path, hints)
		var r check.Report
		if err == nil {
			r, err = check.Compare(original, check.Piece{Name: filepath.Base(path), Pattern: j.Pattern, Trace: j.Measurement.Trace}, check.Options{})
		}
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			c.show(r)
		})
	})
}

// show adds a copy's report and shows it.
func (c *copies) show(r check.Report) {
	c.reports = append(c.reports, r)
	c.summary.SetText(r.Copy.Name + ": " + verdictWords(r.Stations))
	c.report.Enable()
	c.table.Refresh()
	c.window.say(phrase("Compared {{.N}} so far. Stations outside the tolerance are bold.", "N", len(c.reports)))
}

// verdictWords counts the verdicts.
func verdictWords(rows []check.Row) string {
	count := map[check.Verdict]int{}
	for _, r := range rows {
		count[r.Verdict]++
	}
	var parts []string
	for _, v := range check.Verdicts() {
		if count[v] > 0 {
			parts = append(parts, number(count[v])+" "+lang.L(string(v)))
		}
	}
	return strings.Join(parts, ", ")
}

func (c *copies) writeReport() {
	w, reports := c.window, c.reports
	w.askFile(lang.L("Write the report"), w.fileName(" check.pdf"), ".pdf", func(path string) {
		w.writeFile(path, func() error {
			doc, err := check.Paper(reports, check.PaperOptions{Paper: w.isoOrLetter(), Date: today()})
			if err != nil {
				return err
			}
			return sheet.WriteFile(path, doc)
		})
	})
}

func (c *copies) writePlan() {
	n, err := strconv.Atoi(strings.TrimSpace(c.count.Text))
	if err != nil || n < 1 {
		c.window.say(lang.L("How many copies? Write a whole number from 1."))
		return
	}
	o := plan.Options{Copies: n}
	if c.wood.Selected != anyWood {
		o.Species = c.wood.Selected
	}
	w, pattern, title := c.window, c.window.model.pattern(), c.window.model.job.Title
	w.askFile(lang.L("Write the plan"), w.fileName(" plan.pdf"), ".pdf", func(path string) {
		w.writeFile(path, func() error {
			p, err := plan.Make(pattern, o)
			if err != nil {
				return err
			}
			doc, err := p.Sheet(plan.SheetOptions{Title: title, Date: today(), Paper: w.isoOrLetter()})
			if err != nil {
				return err
			}
			return sheet.WriteFile(path, doc)
		})
	})
}

func today() string { return time.Now().Format("2 January 2006") }

// isoOrLetter is the paper for plans and reports: letter where that is the choice for sheets, else A4.
func (w *Window) isoOrLetter() sheet.Paper {
	if strings.EqualFold(w.app.Preferences().String("paper"), string(sheet.Letter)) {
		return sheet.Letter
	}
	return sheet.A4
}
