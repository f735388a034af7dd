package app

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// scalePanel says what the measuring rests on. Its fields change the job's hints; Trace again makes them count.
func (w *Window) scalePanel() fyne.CanvasObject {
	h := &w.model.job.Hints
	square := w.hintLength(lang.L("10 mm"), lang.L("The side of one square as you measured it: the whole row, divided by its squares."), func() *float64 { return &h.Square })
	length := w.hintLength(lang.L("not known"), lang.L("The length between the two ends, if you measured it: 450mm, 17 3/4in."), func() *float64 { return &h.Length })
	focal := w.line.entry(lang.L("The 35 mm equivalent of the lens, in mm, when the photograph does not say it or was cropped."))
	focal.SetPlaceHolder(lang.L("from the photograph"))
	focal.OnChanged = func(s string) {
		v, err := parseNumber(s)
		if err != nil || v < 5 || v > 2000 {
			v = 0
		}
		h.Focal35 = v
	}
	rule := w.line.button(lang.L("Mark two graduations…"), lang.L("Point at two graduations of a rule in the photograph, far apart, and say their distance."), w.markRule)
	form := widget.NewForm(
		widget.NewFormItem(lang.L("Board's square"), square),
		widget.NewFormItem(lang.L("Rule"), rule),
		widget.NewFormItem(lang.L("Known diameter"), w.knownRow()),
		widget.NewFormItem(lang.L("Overall length"), length),
		widget.NewFormItem(lang.L("Focal length"), focal),
	)
	notes := paragraph("")
	w.model.watch(func() {
		text := strings.Join(append(w.model.boardWords(), spokenLines(w.model.job.Measurement.Notes)...), "\n")
		if w.model.traced() && text == "" && len(w.model.job.Photo) > 0 {
			text = phrase("Scale: {{.What}}", "What", w.model.scaleWords())
		}
		if notes.Text != text {
			notes.SetText(text)
		}
	})
	help := paragraph(lang.L("Boards are found by themselves. Focal length is the 35 mm equivalent, in mm."))
	lay := widget.NewLabelWithStyle(lang.L("How the piece lay"), fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	return container.NewVBox(lay, w.heightRow(), form, w.traceAgain(), help, w.cameraSection().content, notes)
}

func (w *Window) traceAgain() *hintButton {
	b := w.line.button(lang.L("Trace again"), lang.L("Measure the photograph anew with what is said here. It can be undone."), w.retrace)
	b.Importance = widget.HighImportance
	update := func() {
		if len(w.model.job.Photo) == 0 {
			b.Disable()
			return
		}
		b.Enable()
	}
	w.model.watch(update)
	update()
	return b
}

// hintLength is a field for a length that may stay open.
func (w *Window) hintLength(placeholder, hint string, target func() *float64) *hintEntry {
	e := w.line.entry(hint)
	e.SetPlaceHolder(placeholder)
	e.OnChanged = func(s string) {
		v, err := profile.ParseLength(s, w.model.unit)
		if strings.TrimSpace(s) == "" {
			v, err = 0, nil
		}
		if err != nil || v < 0 {
			w.say(lang.L("write a length like 450mm, 17 3/4in"))
			return
		}
		*target() = v
	}
	w.model.watch(func() {
		if v := *target(); v == 0 && e.Text != "" && w.canvasFocus() != e {
			e.SetText("")
		}
	})
	return e
}

// knownRow takes one caliper reading: a diameter at a station.
func (w *Window) knownRow() fyne.CanvasObject {
	at := w.line.entry(lang.L("Where you measured a diameter, from the hook end."))
	d := w.line.entry(lang.L("What the calipers read there. One large diameter sets the scale well."))
	at.SetPlaceHolder(lang.L("at station"))
	d.SetPlaceHolder(lang.L("diameter"))
	set := func(string) {
		x, errX := profile.ParseLength(at.Text, w.model.unit)
		v, errD := profile.ParseLength(d.Text, w.model.unit)
		w.model.job.Hints.Known = nil
		if errX == nil && errD == nil && v > 0 {
			w.model.job.Hints.Known = []view.KnownDiameter{{X: x, D: v}}
		}
	}
	at.OnChanged, d.OnChanged = set, set
	return container.NewGridWithColumns(2, at, d)
}

// heightRow says how the axis lies over the reference.
func (w *Window) heightRow() fyne.CanvasObject {
	words, sketches := heightWords(), heightSketches()
	order := []view.HeightMode{view.Lies, view.Level, view.Raised, view.Fixed}
	var list []card
	for _, m := range order {
		list = append(list, card{words[m], heightHints()[m], sketches[m]})
	}
	value := w.line.entry(lang.L("How high the middle of the piece lies over the boards' face, the same at both ends."))
	value.SetPlaceHolder(lang.L("height of the axis"))
	value.OnChanged = func(s string) {
		if v, err := profile.ParseLength(s, w.model.unit); err == nil {
			w.model.job.Hints.Height.Value = v
		}
	}
	value.Hide()
	setHeight := func(m view.HeightMode) {
		w.model.job.Hints.Height.Mode = m
		setVisible(value, m == view.Fixed)
	}
	choose := newCards(w.line, 2, list, func(i int) { setHeight(order[i]) })
	w.model.watch(func() {
		m := w.model.job.Hints.Height.Mode
		if m == "" {
			m = view.Lies
		}
		choose.show(slices.Index(order, m))
		setVisible(value, m == view.Fixed)
	})
	choose.show(slices.Index(order, view.Lies))
	return container.NewVBox(choose.content, value)
}

// markRule asks for two graduations and then for the distance between them.
func (w *Window) markRule() {
	w.ask(lang.L("Drag along the rule from one graduation to another, far apart, or click on both. The wheel zooms."), func(a, b r2.Vec) {
		entry := w.line.entry("")
		entry.SetPlaceHolder("300mm")
		w.askText(lang.L("The two marks are how far apart?"), entry, func() error {
			mm, err := profile.ParseLength(entry.Text, w.model.unit)
			if err != nil || mm <= 0 {
				return errorText(phrase("“{{.Text}}” is not a length: write it like 300mm or 12in.", "Text", entry.Text))
			}
			w.model.job.Hints.Rule = &view.RuleMarks{P: a, Q: b, Length: mm}
			w.retrace()
			return nil
		})
	})
	w.picture.ruling = true
}
