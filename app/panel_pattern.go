package app

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/fit"
)

// patternTools are what the pattern's panel holds beside the numbers of the selected element.
func (w *Window) patternTools() fyne.CanvasObject {
	ties := newTieList(w.model, w.line, w.say)
	w.model.watch(ties.refresh)
	ties.refresh()
	more := widget.NewAccordion(widget.NewAccordionItem(lang.L("What is equal"), ties.content),
		widget.NewAccordionItem(lang.L("A broken end"), newEnds(w).content))
	return container.NewVBox(newReader(w.model, w.line, w.say, w.tracks.focus).content, more)
}

// reader offers what the trace says of the selected element, and puts elements in and takes them out.
type reader struct {
	model *model
	say   func(string)
	back  func()

	how                           *widget.Label // how sure the reading is
	second, again, insert, remove *hintButton
	shapes                        *kindChooser // of what Insert puts in
	content                       fyne.CanvasObject
}

func newReader(m *model, line *statusLine, say func(string), back func()) *reader {
	r := &reader{model: m, say: say, back: back, how: widget.NewLabel("")}
	r.how.Truncation = fyne.TextTruncateEllipsis
	r.second = line.button("", lang.L("The trace would allow this shape nearly as well. One press takes it, and fits it to the trace."), r.takeSecond)
	r.again = line.button(lang.L("Fit again"), lang.L("Fit the selected element and where it meets its neighbours to the trace again."), r.refit)
	r.shapes = newKindChooser(r.doInsert)
	r.insert = r.shapes.button
	r.insert.line, r.insert.hint = line, lang.L("Put a new element into the selected one, where you last clicked or in the middle.")
	r.insert.SetText(lang.L("Insert…"))
	r.remove = line.button(lang.L("Delete"), lang.L("Take the element out; the longer of its neighbours takes its place."), r.doDelete)
	r.content = container.NewVBox(container.NewBorder(nil, nil, nil, r.second, r.how), container.NewGridWithColumns(3, r.again, r.insert, r.remove))
	m.watch(r.fill)
	r.fill()
	return r
}

func (r *reader) fill() {
	e, ok := r.model.element()
	text := ""
	if ok && e.Second.Kind != "" {
		text = phrase("or {{.Kind}}, {{.Percent}} %", "Kind", lang.L(string(e.Second.Kind)), "Percent", percent(e.Second.Confidence))
	}
	if r.second.Text != text {
		r.second.SetText(text)
	}
	setVisible(r.second, text != "")
	how := ""
	if ok {
		how = r.model.sureness(e)
	}
	if r.how.Text != how {
		r.how.SetText(how)
	}
	enable(r.again, ok && len(r.model.job.Measurement.Trace.Samples) > 0)
	enable(r.insert, ok)
	enable(r.remove, ok && len(r.model.pattern().Elements) > 1)
}

func percent(share float64) string { return number(int(math.Round(100 * share))) }

// edit applies an operation that shapes element i anew, and fits it to the trace.
func (r *reader) edit(name string, i int, op func(profile.Pattern) (profile.Pattern, error)) {
	ties := len(r.model.pattern().Ties)
	if err := r.model.edit(name, "", r.model.fitting(op, i)); err != nil {
		r.say(plainly(err))
	} else if n := ties - len(r.model.pattern().Ties); n > 0 {
		r.say(counted("{{.N}} ties no longer fit and were given up.", n))
	}
	r.back()
}

// fitting returns op followed by a fit of element i to the trace. Where the trace shows too little the shape stays as op
// left it.
func (m *model) fitting(op func(profile.Pattern) (profile.Pattern, error), i int) func(profile.Pattern) (profile.Pattern, error) {
	t := m.job.Measurement.Trace
	return func(p profile.Pattern) (profile.Pattern, error) {
		q, err := op(p)
		if err != nil {
			return p, err
		}
		if f, err := fit.Refit(q, t, i, i, fit.Hold{}); err == nil {
			return f, nil
		}
		return q, nil
	}
}

func (r *reader) takeSecond() {
	e, ok := r.model.element()
	if !ok || e.Second.Kind == "" {
		return
	}
	i, k := r.model.selected, e.Second.Kind
	r.edit(phrase("make element {{.N}} a {{.Kind}}", "N", i+1, "Kind", lang.L(string(k))), i,
		func(p profile.Pattern) (profile.Pattern, error) { return profile.SetKind(p, i, k) })
}

func (r *reader) refit() {
	i, t := r.model.selected, r.model.job.Measurement.Trace
	err := r.model.edit(phrase("fit element {{.N}} again", "N", i+1), "", func(p profile.Pattern) (profile.Pattern, error) {
		return fit.Refit(p, t, i, i, fit.Hold{})
	})
	if err != nil {
		r.say(plainly(err))
	}
	r.back()
}

// Proportions that an inserted element starts with (common practice, no source): as wide as a third of the diameter, and
// no more than half of what it is put into.
const (
	insertShare = 1.0 / 3
	insertMost  = 0.5
)

func (r *reader) doInsert(k profile.Kind) {
	e, ok := r.model.element()
	if !ok {
		return
	}
	width := math.Min(insertShare*math.Max(e.D0, e.D1), insertMost*e.Length())
	at := r.model.cursor
	if at <= e.X0 || at >= e.X1 {
		at = (e.X0 + e.X1) / 2
	}
	at = math.Max(e.X0+width/2, math.Min(e.X1-width/2, at))
	op := func(p profile.Pattern) (profile.Pattern, error) { return profile.Insert(p, k, at-width/2, at+width/2) }
	i := r.model.selected
	if q, err := op(r.model.pattern()); err == nil {
		i = q.Index(at)
	}
	r.edit(phrase("insert a {{.Kind}}", "Kind", lang.L(string(k))), i, op)
	r.model.selectElement(i)
}

func (r *reader) doDelete() {
	i := r.model.selected
	r.edit(phrase("delete element {{.N}}", "N", i+1), max(0, i-1), func(p profile.Pattern) (profile.Pattern, error) { return profile.Delete(p, i) })
}

// sureness says how well the trace bears an element's reading out.
func (m *model) sureness(e profile.Element) string {
	if e.Confidence == 0 {
		return lang.L("The trace shows too little of it to be sure.")
	}
	by := uncertainty(2*fit.Residual(e, m.job.Measurement.Trace), m.unit) + " " + m.unit.Suffix()
	return phrase("{{.Percent}} % sure. Trace and shape differ by {{.By}} of diameter.", "Percent", percent(e.Confidence), "By", by)
}

// shapeWord is what the table calls element i: a turner's word, with a question mark where another is nearly as likely.
func (m *model) shapeWord(i int) string {
	p := m.pattern()
	if p.Elements[i].Second.Kind != "" {
		return lang.L(p.Word(i)) + " ?"
	}
	return lang.L(p.Word(i))
}

// runs writes element numbers for people: "2-5".
func runs(first, count int) string {
	if count == 1 {
		return number(first + 1)
	}
	return number(first+1) + "–" + number(first+count)
}

// listed joins words as a list for people.
func listed(words []string) string {
	if len(words) < 2 {
		return slices.Concat(words, []string{""})[0]
	}
	head := words[0]
	for _, w := range words[1 : len(words)-1] {
		head += ", " + w
	}
	return phrase("{{.Some}} and {{.Last}}", "Some", head, "Last", words[len(words)-1])
}
