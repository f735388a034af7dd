package app

import (
	"image/color"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile/check"
	"spindlestick/profile/sheet"
)

// copies is the last step: the plan for turning, the copies with their readings, and other originals of the design.
type copies struct {
	window *Window
	tabs   *container.AppTabs

	chosen  int  // the copy in hand
	place   int  // the gauge in hand
	across  bool // Enter goes to the same place of the next copy first
	gauges  []check.Gauge
	reports []check.Report // of all copies, as far as they can be compared
	words   string         // why they cannot
	kept    []compared
	wait    func() // stops the wait for the hand to rest; nil = none

	list    *widget.List
	ask     *widget.Label
	entry   *readingEntry
	table   *widget.Table
	pairs   *widget.Label
	actions []*hintButton // those that need a copy
}

func (w *Window) copiesPanel() fyne.CanvasObject {
	c := &copies{window: w}
	w.copies = c
	c.tabs = container.NewAppTabs(
		container.NewTabItem(lang.L("Plan"), w.planTab()),
		container.NewTabItem(lang.L("Copies"), c.setTab()),
		container.NewTabItem(lang.L("Originals"), w.originalsTab()),
	)
	w.model.watch(c.changed)
	c.refresh()
	return c.tabs
}

// setTab holds the set of copies: its list, the reading in hand, and the table of the copy chosen.
func (c *copies) setTab() fyne.CanvasObject {
	line := c.window.line
	add := line.button(lang.L("Add a copy"), lang.L("A copy to be read with calipers, station by station."), c.add)
	add.Importance = widget.HighImportance
	from := line.button(lang.L("From a file…"), lang.L("A copy as a job, a pattern or a photograph taken as this one was; or readings as CSV."), c.choose)
	out := line.button(lang.L("Take out"), lang.L("Take the chosen copy out of the set. It can be undone."), c.remove)
	name := line.button(lang.L("Name…"), lang.L("What the chosen copy is called in lists and on paper."), c.rename)
	judge := line.button(lang.L("Tolerances…"), lang.L("How far a copy may be off, and how it is laid on the original."), c.askJudge)
	report := line.button(lang.L("Write the report…"), lang.L("How the copies stand, on paper."), c.writeReport)
	table := line.button(lang.L("Write CSV…"), lang.L("All readings as a table; with nothing read yet a form to fill in."), c.writeCSV)
	c.actions = []*hintButton{out, name, report, table}
	c.list = c.newList()
	c.ask = widget.NewLabel("")
	c.ask.Truncation = fyne.TextTruncateEllipsis
	c.entry = newReadingEntry(line, c)
	order := line.check(lang.L("Place by place"), lang.L("Enter goes to the same place of the next copy, not to the next place."), func(on bool) { c.across = on })
	c.table = c.newTable()
	c.pairs = paragraph("")
	gauge := container.NewBorder(nil, nil, nil, container.NewHBox(container.NewGridWrap(fyne.NewSize(90, c.entry.MinSize().Height), c.entry), order), c.ask)
	c.window.model.watch(func() {
		enable(add, c.window.model.traced())
		enable(from, c.window.model.traced())
		enable(judge, c.window.model.traced())
	})
	room := canvas.NewRectangle(color.Transparent)
	room.SetMinSize(fyne.NewSize(0, 100)) // three copies; the rest scrolls
	top := container.NewVBox(container.NewGridWithColumns(4, add, from, name, out),
		container.NewStack(room, c.list), gauge)
	bottom := container.NewVBox(c.pairs, container.NewGridWithColumns(3, judge, report, table))
	return container.NewBorder(top, bottom, nil, nil, c.table)
}

// set is the job's copies.
func (c *copies) set() check.Set { return c.window.model.job.Copies }

// original is the piece on the bench.
func (c *copies) original() check.Piece {
	return c.window.model.job.Piece(c.window.model.job.Title)
}

// keepCopies takes another set of copies, as a step that can be undone. Changes with one key in a row are one step.
func (m *model) keepCopies(name, key string, s check.Set) {
	m.job.Copies = s
	m.history.Do(name, key, m.job)
	m.changed()
}

// showing reports whether this step is on the screen; elsewhere nothing is compared.
func (c *copies) showing() bool {
	return c.window.steps == nil || c.window.steps.shown == stepCopies
}

// refresh compares all copies anew.
func (c *copies) refresh() {
	if c.list == nil || !c.showing() {
		return
	}
	c.reports, c.gauges, c.words = nil, nil, ""
	if c.window.model.traced() {
		c.compareAll()
	}
	n := len(c.set().Copies)
	c.chosen = max(0, min(c.chosen, n-1))
	c.place = max(0, min(c.place, len(c.gauges)-1))
	for _, b := range c.actions {
		enable(b, len(c.reports) > 0)
	}
	c.list.Refresh()
	c.table.Refresh()
	c.pairs.SetText(c.pairWords())
	c.showPlace()
}

func (c *copies) compareAll() {
	o := c.original()
	reports, err := c.reportsOf(c.set(), o)
	if err == nil {
		c.gauges, err = check.Gauges(o, c.set().Options)
	}
	if err != nil {
		c.words = plainly(err)
		return
	}
	c.reports = reports
}

// pairWords says which copies to put side by side.
func (c *copies) pairWords() string {
	if c.words != "" || len(c.reports) < 2 {
		return c.words
	}
	p := check.SideBySide(c.reports)
	var out []string
	for _, q := range p.Pairs {
		out = append(out, phrase("{{.A}} with {{.B}} ({{.Mean}})", "A", c.reports[q.A].Copy.Name, "B", c.reports[q.B].Copy.Name, "Mean", decimals(q.Mean, 2)))
	}
	if len(out) == 0 {
		return lang.L("Measure two copies further to see which go side by side.")
	}
	return phrase("Side by side, mean difference in mm where the eye compares: {{.Pairs}}.", "Pairs", strings.Join(out, "; "))
}

// look chooses a copy.
func (c *copies) look(i int) {
	if i < 0 || i >= len(c.set().Copies) {
		return
	}
	c.chosen = i
	c.table.Refresh()
	c.table.ScrollToTop()
	c.showPlace()
}

func today() string { return time.Now().Format("2 January 2006") }

// isoOrLetter is the paper for plans and reports: letter where that is the choice for sheets, else A4.
func (w *Window) isoOrLetter() sheet.Paper {
	if strings.EqualFold(w.app.Preferences().String("paper"), string(sheet.Letter)) {
		return sheet.Letter
	}
	return sheet.A4
}
