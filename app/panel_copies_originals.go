package app

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/check"
	"spindlestick/profile/sheet"
)

// originals joins the piece on the bench with others of its design.
type originals struct {
	window *Window
	more   []check.Piece // besides the piece on the bench
	first  check.Piece   // the bench's: its weight, and whether it is dropped
	worn   bool
	bench  *job.History[job.Job] // that the pieces belong to

	pieces  []check.Piece // all, as last joined
	pattern profile.Pattern
	spread  check.Spread

	rows    *fyne.Container
	list    *container.Scroll // of rows
	page    *fyne.Container   // all of it
	table   *widget.Table
	found   *widget.Label
	actions []*hintButton // those that need a likely pattern
}

// originalsTab asks what the maker meant, of several pieces.
func (w *Window) originalsTab() fyne.CanvasObject {
	o := &originals{window: w, rows: container.NewVBox(), found: paragraph("")}
	w.originals = o
	add := w.line.button(lang.L("Add an original…"), lang.L("Another piece of the same design: a job, a pattern or a photograph. Lengths may differ."), o.choose)
	add.Importance = widget.HighImportance
	take := w.line.button(lang.L("Take the likely pattern"), lang.L("Put the pattern they most likely come from on the bench, as a job of its own."), o.take)
	write := w.line.button(lang.L("Write the spread…"), lang.L("How the originals agree, station by station, on paper."), o.writeSpread)
	o.actions = []*hintButton{take, write}
	worn := w.line.check(lang.L("Worn: the fuller ones count"), lang.L("They have lost wood, so where they differ the larger diameter counts; otherwise the majority does."), func(on bool) {
		o.worn = on
		o.refresh()
	})
	o.table = o.newTable()
	w.model.watch(func() {
		enable(add, w.model.traced())
		o.refresh()
	})
	o.list = container.NewVScroll(o.rows)
	o.refresh()
	top := container.NewVBox(paragraph(lang.L("Of several worn pieces of one design: the pattern that they most likely come from.")),
		container.NewGridWithColumns(2, add, worn), o.list, o.found)
	o.page = container.NewBorder(top, container.NewGridWithColumns(2, take, write), nil, nil, o.table)
	return o.page
}

func (o *originals) choose() {
	o.window.chooseFile(append([]string{job.Extension, ".json"}, photoEndings()...), o.add)
}

// add reads another original, beside the window.
func (o *originals) add(path string) {
	w := o.window
	ctx, turn := w.busy.begin()
	hints := w.model.job.Hints
	hints.Axis, hints.Rule = nil, nil // those marks belong to the other photograph
	w.services.start(func() {
		j, err := w.readPiece(ctx, turn, path, hints)
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			o.more = append(o.more, j.Piece(filepath.Base(path)))
			o.layRows()
			o.refresh()
		})
	})
}

// layRows lists the pieces, each with its weight; a weight of 0 drops it.
func (o *originals) layRows() {
	o.rows.RemoveAll()
	pieces := []*check.Piece{&o.first}
	for i := range o.more {
		pieces = append(pieces, &o.more[i])
	}
	for i, p := range pieces {
		name := p.Name
		if i == 0 {
			name = lang.L("on the bench")
		}
		weight := o.window.line.entry(lang.L("How much this piece counts: 1 is usual, 0 leaves it out."))
		weight.SetText(weightText(*p))
		weight.OnChanged = func(s string) {
			v, err := parseNumber(s)
			if err != nil || !(v >= 0 && v <= 1000) {
				o.window.say(lang.L("Write a weight from 0, which leaves the piece out, to 1000."))
				return
			}
			p.Weight, p.Drop = v, v == 0
			o.refresh()
		}
		label := widget.NewLabel(name)
		label.Truncation = fyne.TextTruncateEllipsis
		o.rows.Add(container.NewBorder(nil, nil, nil, container.NewGridWrap(fyne.NewSize(70, weight.MinSize().Height), weight), label))
	}
	const most = 4 // rows that are shown at once
	row := o.rows.MinSize().Height / float32(len(pieces))
	o.list.SetMinSize(fyne.NewSize(0, row*float32(min(most, len(pieces)))))
	o.page.Refresh() // its parts are as high as they need
}

func weightText(p check.Piece) string {
	switch {
	case p.Drop:
		return "0"
	case p.Weight == 0:
		return "1"
	}
	return decimals(p.Weight, -1)
}

// refresh joins the pieces anew.
func (o *originals) refresh() {
	w := o.window
	if o.bench != w.model.history { // another job is on the bench
		o.bench, o.more, o.first = w.model.history, nil, check.Piece{}
		o.rows.RemoveAll()
		o.list.SetMinSize(fyne.Size{})
	}
	if w.steps != nil && w.steps.shown != stepCopies {
		return
	}
	o.pieces, o.pattern, o.spread = nil, profile.Pattern{}, check.Spread{}
	text := ""
	if w.model.traced() && len(o.more) > 0 {
		text = o.join()
	}
	o.found.SetText(text)
	for _, b := range o.actions {
		enable(b, len(o.pieces) > 0)
	}
	if o.table != nil {
		o.table.Refresh()
	}
}

// join joins the pieces and says what stands out.
func (o *originals) join() string {
	first := o.window.model.job.Piece(o.window.model.job.Title)
	first.Weight, first.Drop = o.first.Weight, o.first.Drop
	pieces := append([]check.Piece{first}, o.more...)
	p, s, err := check.Likely(pieces, check.LikelyOptions{Worn: o.worn})
	if err != nil {
		return plainly(err)
	}
	o.pieces, o.pattern, o.spread = pieces, p, s
	var lines []string
	for i, q := range pieces {
		for _, r := range s.ByPiece(i) {
			lines = append(lines, q.Name+": "+remarkWords(r, o.window.model.unit))
		}
	}
	const most = 6 // the rest stands on paper
	if n := len(lines); n > most {
		lines = append(lines[:most], counted("and {{.N}} more", n-most))
	}
	if len(lines) == 0 {
		return lang.L("The pieces agree within scatter and uncertainty.")
	}
	return strings.Join(lines, "\n")
}

// remarkWords is a finding in the user's language.
func remarkWords(r check.Remark, u profile.Unit) string {
	if r.Finding == check.Scaled {
		return phrase("all its diameters are {{.Share}} % off: dried oval, or seen across another face", "Share", decimals(100*r.Amount, 1))
	}
	if u == profile.Fraction {
		u = profile.Inch // differences are smaller than a 64th
	}
	return phrase("{{.Finding}} at {{.At}} by {{.Amount}}", "Finding", lang.L(string(r.Finding)), "At", length(r.X, u), "Amount", length(max(r.Amount, -r.Amount), u))
}

// newTable shows the likely figures with their spread.
func (o *originals) newTable() *widget.Table {
	titles := []string{lang.L("at"), lang.L("what"), lang.L("likely"), "±", lang.L("scatter")}
	rows := func() []check.Agreement { return slices.Concat(o.spread.Diameters, o.spread.Lengths) }
	t := widget.NewTableWithHeaders(func() (int, int) { return len(rows()), len(titles) },
		newCell,
		func(id widget.TableCellID, cell fyne.CanvasObject) {
			all := rows()
			if id.Row >= len(all) {
				return
			}
			a, u := all[id.Row], o.window.model.unit
			l := cellLabel(cell)
			l.TextStyle.Bold = slices.ContainsFunc(a.Words, func(w check.Word) bool { return w.Outlier })
			l.SetText([]string{length(a.X, u), spotWords(a.What, check.OneSize), length(a.Value, u), length(a.U, u), length(a.Scatter, u)}[id.Col])
		})
	t.ShowHeaderColumn = false
	t.CreateHeader = newCell
	t.UpdateHeader = func(id widget.TableCellID, cell fyne.CanvasObject) {
		if id.Col >= 0 {
			cellLabel(cell).SetText(titles[id.Col])
		}
	}
	for i, width := range []float32{60, 150, 70, 60, 70} {
		t.SetColumnWidth(i, width)
	}
	return t
}

// take puts the likely pattern on the bench, as a job that no file holds.
func (o *originals) take() {
	w, pieces, p := o.window, o.pieces, o.pattern
	w.whenSafe(func() {
		j := job.Likely(phrase("{{.Title}}, likely", "Title", w.model.job.Title), pieces, p)
		w.putUp("", j, nil)
		w.say(j.Note)
	})
}

func (o *originals) writeSpread() {
	w, pieces, p, s := o.window, o.pieces, o.pattern, o.spread
	w.askFile(lang.L("Write the spread"), w.fileName(" spread.pdf"), ".pdf", func(path string) {
		w.writeFile(path, func() error {
			doc, err := check.SpreadPaper(pieces, p, s, check.PaperOptions{Paper: w.isoOrLetter(), Date: today()})
			if err != nil {
				return err
			}
			return sheet.WriteFile(path, doc)
		})
	})
}
