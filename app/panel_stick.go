package app

import (
	"image"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// sheetChoice is what the Stick step is set to print.
type sheetChoice struct {
	show   sheet.Show
	paper  sheet.Paper
	ending string
	// hook is how far the blank goes on before station 1, allowance what a sizing cut leaves: mm; an allowance of 0 is the
	// usual one, a negative one is none.
	hook, allowance float64
	printer         string // empty = any
}

// stickPanel writes the sheets.
func (w *Window) stickPanel() fyne.CanvasObject {
	c := w.sheetChoice()
	view := newPreview(w, func() sheetChoice { return *c })
	w.preview = view
	show := newChoice(w.line, lang.L("The story stick, the drawing, the half template, the table of stations, or all of them."), sheet.Shows(), c.show, func(s sheet.Show) {
		c.show = s
		view.refresh()
	})
	paper := newChoice(w.line, lang.L("The paper in the printer; a roll takes the stick in one piece."), sheet.Papers(), c.paper, func(p sheet.Paper) {
		c.paper = p
		w.app.Preferences().SetString("paper", string(p))
		view.refresh()
	})
	ending := w.line.choice(sheet.Endings(), lang.L("PDF to print; SVG and DXF for other programs; CSV and JSON for the stations in figures."), func(s string) { c.ending = s })
	ending.SetSelected(c.ending)
	units := w.line.choice(unitNames(), lang.L("Of all numbers shown and of numbers typed without a unit."), w.setUnitByName)
	w.model.watch(func() {
		if name := unitName(w.model.unit); units.Selected != name {
			units.SetSelected(name)
		}
	})
	units.SetSelected(unitName(w.model.unit))
	write := w.line.button(lang.L("Write the sheets…"), lang.L("Write the file to print. The pages below are what it holds."), func() { w.writeSheets(*c) })
	write.Importance = widget.HighImportance
	update := func() {
		if w.model.traced() {
			write.Enable()
		} else {
			write.Disable()
		}
	}
	w.model.watch(update)
	update()
	sizes := newRounder(w)
	form := widget.NewForm(widget.NewFormItem(lang.L("Sheets"), show), widget.NewFormItem(lang.L("Paper"), paper),
		widget.NewFormItem(lang.L("Units"), units), widget.NewFormItem(lang.L("Sizes"), sizes.choice), widget.NewFormItem(lang.L("File"), ending),
		widget.NewFormItem(lang.L("Printer"), w.printerRow(func(name string) {
			c.printer = name
			view.refresh()
		})),
		widget.NewFormItem(lang.L("Before line 1"), w.keptLength("hook", lang.L("0 mm: the stick hooks over the finished end"), lang.L("How far the blank goes on before line 1, when it is cut to length at the end."), func(mm float64, given bool) {
			c.hook = mm
			view.refresh()
		})),
		widget.NewFormItem(lang.L("Left by sizing"), w.keptLength("allowance", lang.L("usual: 1/16 in"), lang.L("What a sizing cut leaves on the finished diameter."), func(mm float64, given bool) {
			c.allowance = allowanceOf(mm, given)
			view.refresh()
		})))
	return container.NewVBox(form, sizes.note, sizes.more, write, view.content,
		paragraph(lang.L("Print at 100 %, without fitting to the page. Measure the check bar on the first page before you trust a line.")),
		paragraph(lang.L("Hook the stick over the end marked with the lip. Stop the lathe before you hold anything to the work.")))
}

// sheetChoice is what was chosen last time.
func (w *Window) sheetChoice() *sheetChoice {
	p := w.app.Preferences()
	return &sheetChoice{show: sheet.All, paper: sheet.Paper(p.StringWithFallback("paper", string(sheet.A4))), ending: ".pdf"}
}

// allowanceOf is the allowance as the sheets take it: 0 = the usual one, negative = none.
func allowanceOf(mm float64, given bool) float64 {
	if given && mm == 0 {
		return -1
	}
	return mm
}

// keptLength is a field for a length that the settings keep; set is told it at once, and whether there is one.
func (w *Window) keptLength(key, placeholder, hint string, set func(mm float64, given bool)) *hintEntry {
	e := w.line.entry(hint)
	e.SetPlaceHolder(placeholder)
	e.SetText(w.app.Preferences().String(key))
	read := func(s string) {
		s = strings.TrimSpace(s)
		mm, err := profile.ParseLength(s, w.model.unit)
		if s == "" {
			mm, err = 0, nil
		}
		if err != nil || mm < 0 {
			w.say(lang.L("write a length like 8mm or 5/16in"))
			return
		}
		w.app.Preferences().SetString(key, s)
		set(mm, s != "")
	}
	e.OnChanged = read
	read(e.Text)
	return e
}

// writeSheets asks for a file and writes it beside the window.
func (w *Window) writeSheets(c sheetChoice) {
	w.askFile(lang.L("Write the sheets"), w.fileName(c.ending), c.ending, func(path string) { w.writeSheetsTo(path, c) })
}

func (w *Window) writeSheetsTo(path string, c sheetChoice) {
	p, o, record := w.model.workshop(), w.sheetOptions(c), w.record(c, 0)
	w.writeFile(path, func() (err error) {
		if o.Photo, err = record(); err != nil {
			return err
		}
		return sheet.Write(path, p, o)
	})
}

func (w *Window) sheetOptions(c sheetChoice) sheet.Options {
	o := sheet.Options{
		Show: c.show, Paper: c.paper, Units: w.model.unit, Title: w.model.job.Title, Date: time.Now().Format("2 January 2006"),
		Hook: c.hook, Allowance: c.allowance, Notes: w.model.workshopNote(),
	}
	if p, ok := w.printerNamed(c.printer); ok {
		if along, across, err := p.scales(); err == nil {
			o.Printer, o.ScaleX, o.ScaleY = p.name, along, across
		}
	}
	return o
}

// record returns what draws the picture of the record page, width px wide (0 = for print), beside the window; it gives
// nil where no such page is wanted or the photograph's place is not known.
func (w *Window) record(c sheetChoice, width int) func() (image.Image, error) {
	photo, j := w.tracks.photo, w.model.job
	return func() (image.Image, error) {
		if photo == nil || c.show != sheet.Table && c.show != sheet.All {
			return nil, nil
		}
		return drawRecord(photo, j, width)
	}
}

// saveBoards writes the scale boards to print.
func (w *Window) saveBoards() {
	paper := sheet.A4
	if p := w.app.Preferences().String("paper"); strings.EqualFold(p, string(sheet.Letter)) {
		paper = sheet.Letter
	}
	w.askFile(lang.L("Write the scale boards"), "boards.pdf", ".pdf", func(path string) {
		w.writeFile(path, func() error {
			doc, err := sheet.Boards(paper)
			if err != nil {
				return err
			}
			return sheet.WriteFile(path, doc)
		})
	})
}

// writeFile runs work beside the window and says how it went.
func (w *Window) writeFile(path string, work func() error) {
	_, turn := w.busy.begin()
	w.busy.report(turn, phrase("Writing {{.File}}", "File", filepath.Base(path)), 0.3)
	w.services.start(func() {
		err := work()
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			w.say(phrase("Wrote {{.Path}}.", "Path", path))
		})
	})
}

func unitNames() []string { return []string{"mm", lang.L("inches"), lang.L("inches and fractions")} }

func unitName(u profile.Unit) string {
	switch u {
	case profile.Inch:
		return lang.L("inches")
	case profile.Fraction:
		return lang.L("inches and fractions")
	}
	return "mm"
}

func (w *Window) setUnitByName(name string) {
	for _, u := range []profile.Unit{profile.MM, profile.Inch, profile.Fraction} {
		if unitName(u) == name {
			w.setUnit(u)
		}
	}
}
