package app

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// printer is a printer as its check bars measured on a sheet that was printed without correction: mm for 100 mm along the
// paper's long side and across it.
type printer struct {
	name          string
	along, across float64
}

// anyPrinter is the choice of none: nothing is corrected.
const anyPrinter = "any, uncorrected"

// scales returns what undoes the printer's error along and across the paper.
func (p printer) scales() (along, across float64, err error) {
	if along, err = sheet.Correction(p.along); err != nil {
		return 0, 0, err
	}
	across, err = sheet.Correction(p.across)
	return along, across, err
}

// encoded is the printer as the settings keep it: fields that a tab divides, the name last.
func (p printer) encoded() string {
	return strconv.FormatFloat(p.along, 'f', -1, 64) + "\t" + strconv.FormatFloat(p.across, 'f', -1, 64) + "\t" + p.name
}

// decodePrinter reads what encoded wrote; ok is false for anything else, as settings can be edited by hand.
func decodePrinter(s string) (p printer, ok bool) {
	f := strings.SplitN(s, "\t", 3)
	if len(f) != 3 || f[2] == "" {
		return printer{}, false
	}
	along, errA := strconv.ParseFloat(f[0], 64)
	across, errB := strconv.ParseFloat(f[1], 64)
	p = printer{f[2], along, across}
	_, _, err := p.scales()
	return p, errA == nil && errB == nil && err == nil
}

// printers returns the measured printers.
func (w *Window) printers() []printer {
	var out []printer
	for _, s := range w.app.Preferences().StringList("printers") {
		if p, ok := decodePrinter(s); ok {
			out = append(out, p)
		}
	}
	return out
}

// printerNamed returns a measured printer; ok is false when there is none of that name.
func (w *Window) printerNamed(name string) (printer, bool) {
	for _, p := range w.printers() {
		if p.name == name {
			return p, true
		}
	}
	return printer{}, false
}

// keepPrinter keeps a printer, in the place of one of the same name.
func (w *Window) keepPrinter(p printer) {
	var list []string
	for _, old := range w.printers() {
		if old.name != p.name {
			list = append(list, old.encoded())
		}
	}
	w.app.Preferences().SetStringList("printers", append(list, p.encoded()))
	w.app.Preferences().SetString("printer", p.name)
}

func (w *Window) printerNames() []string {
	out := []string{lang.L(anyPrinter)}
	for _, p := range w.printers() {
		out = append(out, p.name)
	}
	return out
}

// printerRow chooses the printer that the sheets are made for, and measures another. changed is told the name, empty for
// any.
func (w *Window) printerRow(changed func(name string)) fyne.CanvasObject {
	choose := w.line.choice(w.printerNames(), lang.L("Sheets for a measured printer are corrected for its error, and say so."), func(name string) {
		if _, ok := w.printerNamed(name); !ok {
			name = ""
		}
		w.app.Preferences().SetString("printer", name)
		changed(name)
	})
	show := func() {
		choose.Options = w.printerNames()
		name := w.app.Preferences().String("printer")
		if _, ok := w.printerNamed(name); !ok {
			name = lang.L(anyPrinter)
		}
		choose.SetSelected(name)
	}
	show()
	measure := w.line.button(lang.L("Measure…"), lang.L("Say what the check bars measure on paper, so that later sheets come out true."), func() { w.measurePrinter(show) })
	return container.NewBorder(nil, nil, nil, measure, choose)
}

// measurePrinter asks what the check bars measure, keeps it under the printer's name and calls done.
func (w *Window) measurePrinter(done func()) {
	name, along, across := widget.NewEntry(), widget.NewEntry(), widget.NewEntry()
	name.SetPlaceHolder(lang.L("a name for the printer and its paper"))
	along.SetPlaceHolder(local("100.0 mm"))
	across.SetPlaceHolder(local("100.0 mm"))
	reason := paragraph("")
	var q *question
	keep := widget.NewButton(lang.L("Keep"), func() {
		p, err := readPrinter(name.Text, along.Text, across.Text)
		if err != nil {
			reason.SetText(plainly(err))
			return
		}
		w.keepPrinter(p)
		q.close()
		done()
	})
	keep.Importance = widget.HighImportance
	form := widget.NewForm(widget.NewFormItem(lang.L("Printer"), name), widget.NewFormItem(lang.L("Along the paper"), along), widget.NewFormItem(lang.L("Across it"), across))
	help := paragraph(lang.L("Print a sheet with the printer set to any. Measure its two bars of 100 mm, the one along the paper's long side and the one across, as exactly as you can: a steel rule and a glass do. A bar of 50 mm counts double."))
	q = w.newQuestion(lang.L("What do the bars measure?"), container.NewGridWrap(fyne.NewSize(460, 260), container.NewVBox(help, form, reason)), keep)
	w.win.Canvas().Focus(name)
}

// readPrinter reads what was typed of a printer.
func readPrinter(name, along, across string) (printer, error) {
	p := printer{name: strings.Join(strings.Fields(name), " ")}
	if p.name == "" || p.name == anyPrinter || p.name == lang.L(anyPrinter) {
		return p, errorText(lang.L("Give the printer a name."))
	}
	for _, f := range []struct {
		text string
		to   *float64
	}{{along, &p.along}, {across, &p.across}} {
		mm, err := profile.ParseLength(f.text, profile.MM)
		if err != nil {
			return p, errorText(lang.L("Write what a bar measures like 99.6mm."))
		}
		*f.to = mm
	}
	_, _, err := p.scales()
	return p, err
}
