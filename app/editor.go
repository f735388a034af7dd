package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
)

// editor changes the selected element by numbers and words.
type editor struct {
	model *model
	say   func(string)
	back  func() // gives the keyboard back to the tracks

	kind                  *kindChooser
	from, to, d0, mid, d1 *hintEntry
	split, merge          *hintButton
	why                   *widget.Label // the selected element is weak
	content               fyne.CanvasObject
}

func newEditor(m *model, say func(string), back func()) *editor {
	e := &editor{model: m, say: say, back: back}
	e.kind = newKindChooser(e.setKind)
	move := func(edge int) func(float64) error {
		return func(v float64) error {
			i := m.selected + edge
			return m.edit(phrase("move station {{.N}}", "N", i+1), "", func(p profile.Pattern) (profile.Pattern, error) { return profile.MoveStation(p, i, v) })
		}
	}
	size := func(end profile.End) func(float64) error {
		return func(v float64) error {
			i := m.selected
			return m.edit(phrase("change a diameter of element {{.N}}", "N", i+1), "", func(p profile.Pattern) (profile.Pattern, error) {
				return profile.SetDiameter(p, i, end, v)
			})
		}
	}
	e.from = e.entry(lang.L("Where the element starts. Any unit: 35mm, 1 3/8, 1.375in. Enter applies."), move(0))
	e.to = e.entry(lang.L("Where the element ends. Any unit: 35mm, 1 3/8, 1.375in. Enter applies."), move(1))
	e.d0 = e.entry(lang.L("The diameter where it starts; of a square, its side."), size(profile.Near))
	e.d1 = e.entry(lang.L("The diameter where it ends; of a square, its side."), size(profile.Far))
	e.mid = e.entry(lang.L("The diameter at the crest, the bottom, or where the curve turns over."), func(v float64) error {
		i := m.selected
		return m.edit(phrase("change the middle of element {{.N}}", "N", i+1), "", func(p profile.Pattern) (profile.Pattern, error) { return profile.SetMid(p, i, v) })
	})
	e.split = (*statusLine)(nil).button(lang.L("Split here"), lang.L("Cut the element in two where you last clicked, or in the middle."), e.doSplit)
	e.merge = (*statusLine)(nil).button(lang.L("Merge with next"), lang.L("Make one element of this one and the next."), e.doMerge)
	e.why = paragraph("")
	e.why.Importance = widget.WarningImportance
	e.content = container.NewVBox(
		container.NewGridWithColumns(3, e.kind.content, e.split, e.merge),
		container.NewGridWithColumns(5, head(lang.L("from")), head(lang.L("to")), head(lang.L("starts")), head(lang.L("middle")), head(lang.L("ends"))),
		container.NewGridWithColumns(5, e.from, e.to, e.d0, e.mid, e.d1),
		e.why,
	)
	m.watch(e.fill)
	e.fill()
	return e
}

func head(s string) fyne.CanvasObject {
	l := widget.NewLabel(s)
	l.SizeName = theme.SizeNameCaptionText
	return l
}

// tell lets the editor's controls say their hints.
func (e *editor) tell(line *statusLine) {
	for _, f := range []*hintEntry{e.from, e.to, e.d0, e.mid, e.d1} {
		f.line = line
	}
	for _, b := range []*hintButton{e.kind.button, e.split, e.merge} {
		b.line = line
	}
}

// entry makes a field whose number, in any unit, is applied by Enter.
func (e *editor) entry(hint string, apply func(mm float64) error) *hintEntry {
	w := (*statusLine)(nil).entry(hint)
	w.leave = func() {
		e.fill()
		e.back()
	}
	w.OnSubmitted = func(s string) {
		mm, err := profile.ParseLength(s, e.model.unit)
		if err == nil {
			err = apply(mm)
		}
		if err != nil {
			e.say(plainly(err))
			e.fill()
			return
		}
		e.back()
	}
	return w
}

// fill shows the selected element's numbers.
func (e *editor) fill() {
	el, ok := e.model.element()
	e.warn()
	fields := []*hintEntry{e.from, e.to, e.d0, e.mid, e.d1}
	if !ok {
		for _, f := range fields {
			f.SetText("")
			f.Disable()
		}
		e.kind.show("")
		e.split.Disable()
		e.merge.Disable()
		return
	}
	_, mid, hasMid := el.Mid()
	for i, v := range []float64{el.X0, el.X1, el.D0, mid, el.D1} {
		fields[i].SetText(length(v, e.model.unit))
		fields[i].Enable()
	}
	if !hasMid {
		e.mid.SetText("")
		e.mid.Disable()
	}
	if e.model.selected == 0 {
		e.from.Disable()
	}
	e.kind.show(el.Kind)
	e.split.Enable()
	e.merge.Enable()
	if e.model.selected == len(e.model.pattern().Elements)-1 {
		e.merge.Disable()
	}
}

// field is the one for a column of the table; nil = it holds no number to type.
func (e *editor) field(col int) *hintEntry {
	fields := map[string]*hintEntry{lang.L("from"): e.from, lang.L("to"): e.to, lang.L("starts"): e.d0, lang.L("middle"): e.mid, lang.L("ends"): e.d1}
	if col < 0 || col >= len(columns()) {
		return nil
	}
	return fields[columns()[col].title]
}

// warn says what is weak about the selected element.
func (e *editor) warn() {
	text := ""
	if _, ok := e.model.element(); ok {
		if w := e.model.weaknesses()[e.model.selected]; w.word != "" {
			text = w.word + ": " + w.why
		}
	}
	if e.why.Text != text {
		e.why.SetText(text)
	}
	setVisible(e.why, text != "")
}

func (e *editor) setKind(k profile.Kind) {
	i := e.model.selected
	if i < 0 {
		return
	}
	e.report(e.model.edit(phrase("make element {{.N}} a {{.Kind}}", "N", i+1, "Kind", lang.L(string(k))), "", e.model.fitting(func(p profile.Pattern) (profile.Pattern, error) {
		return profile.SetKind(p, i, k)
	}, i)))
}

// doSplit cuts at the station last pointed at, or in the middle when that lies elsewhere.
func (e *editor) doSplit() {
	el, ok := e.model.element()
	if !ok {
		return
	}
	at := e.model.cursor
	if at <= el.X0 || at >= el.X1 {
		at = (el.X0 + el.X1) / 2
	}
	i := e.model.selected
	e.report(e.model.edit(phrase("split element {{.N}}", "N", i+1), "", func(p profile.Pattern) (profile.Pattern, error) { return profile.Split(p, i, at) }))
}

func (e *editor) doMerge() {
	i := e.model.selected
	e.report(e.model.edit(phrase("merge element {{.N}} with the next", "N", i+1), "", e.model.fitting(func(p profile.Pattern) (profile.Pattern, error) { return profile.Merge(p, i) }, i)))
}

func (e *editor) report(err error) {
	if err != nil {
		e.say(plainly(err))
	}
	e.back()
}
