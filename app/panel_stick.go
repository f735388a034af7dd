package app

import (
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// sheetChoice is what the Stick step is set to print.
type sheetChoice struct {
	show   sheet.Show
	paper  sheet.Paper
	ending string
}

// stickPanel writes the sheets.
func (w *Window) stickPanel() fyne.CanvasObject {
	c := &sheetChoice{show: sheet.All, paper: sheet.Paper(w.app.Preferences().StringWithFallback("paper", string(sheet.A4))), ending: ".pdf"}
	view := newPreview(w, func() sheetChoice { return *c })
	w.preview = view
	show := widget.NewSelect(strs(sheet.Shows()), func(s string) {
		c.show = sheet.Show(s)
		view.refresh()
	})
	show.SetSelected(string(c.show))
	paper := widget.NewSelect(strs(sheet.Papers()), func(s string) {
		c.paper = sheet.Paper(s)
		w.app.Preferences().SetString("paper", s)
		view.refresh()
	})
	paper.SetSelected(string(c.paper))
	ending := widget.NewSelect([]string{".pdf", ".svg", ".dxf", ".png"}, func(s string) { c.ending = s })
	ending.SetSelected(c.ending)
	units := widget.NewSelect(unitNames(), w.setUnitByName)
	w.model.watch(func() {
		if name := unitName(w.model.unit); units.Selected != name {
			units.SetSelected(name)
		}
	})
	units.SetSelected(unitName(w.model.unit))
	write := widget.NewButton("Write the sheets…", func() { w.writeSheets(*c) })
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
	form := widget.NewForm(widget.NewFormItem("Sheets", show), widget.NewFormItem("Paper", paper),
		widget.NewFormItem("Units", units), widget.NewFormItem("File", ending))
	return container.NewVBox(form, write, view.content,
		paragraph("Print at 100 %, without fitting to the page. Measure the check bar on the first page before you trust a line."),
		paragraph("Hook the stick over the end marked with the lip. Stop the lathe before you hold anything to the work."))
}

func strs[S ~string](in []S) []string {
	var out []string
	for _, s := range in {
		out = append(out, string(s))
	}
	return out
}

// writeSheets asks for a file and writes it beside the window.
func (w *Window) writeSheets(c sheetChoice) {
	w.askFile("Write the sheets", w.fileName(c.ending), c.ending, func(path string) { w.writeSheetsTo(path, c) })
}

func (w *Window) writeSheetsTo(path string, c sheetChoice) {
	p, o := w.model.pattern(), w.sheetOptions(c)
	w.writeFile(path, func() error {
		doc, err := sheet.Make(p, o)
		if err != nil {
			return err
		}
		return sheet.WriteFile(path, doc)
	})
}

func (w *Window) sheetOptions(c sheetChoice) sheet.Options {
	return sheet.Options{
		Show: c.show, Paper: c.paper, Units: w.model.unit, Title: w.model.job.Title, Date: time.Now().Format("2 January 2006"),
	}
}

// saveBoards writes the scale boards to print.
func (w *Window) saveBoards() {
	paper := sheet.A4
	if p := w.app.Preferences().String("paper"); strings.EqualFold(p, string(sheet.Letter)) {
		paper = sheet.Letter
	}
	w.askFile("Write the scale boards", "boards.pdf", ".pdf", func(path string) {
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
	w.busy.report(turn, "Writing "+filepath.Base(path), 0.3)
	w.services.start(func() {
		err := work()
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			w.say("Wrote " + path + ".")
		})
	})
}

func unitNames() []string { return []string{"mm", "inches", "inches and fractions"} }

func unitName(u profile.Unit) string {
	switch u {
	case profile.Inch:
		return "inches"
	case profile.Fraction:
		return "inches and fractions"
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
