package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
)

// tieList shows the ties in force and those the pattern nearly keeps, each with the press that takes or gives it up.
type tieList struct {
	model *model
	line  *statusLine
	say   func(string)

	rows    *fyne.Container
	shown   []string // what the rows say, so that they are made anew only when that changes
	content fyne.CanvasObject
}

// mostOffers is how many offers are listed: the longest groups come first, and more would not be read.
const mostOffers = 12

func newTieList(m *model, line *statusLine, say func(string)) *tieList {
	l := &tieList{model: m, line: line, say: say, rows: container.NewVBox()}
	l.content = container.NewVBox(l.rows, paragraph(lang.L("What is tied stays equal: a correction of one moves its twins. Nothing is tied unasked.")))
	return l
}

// refresh lists the ties anew.
func (l *tieList) refresh() {
	p := l.model.pattern()
	offers := profile.Offers(p)
	offers = offers[:min(len(offers), mostOffers)]
	var say []string
	for _, t := range p.Ties {
		say = append(say, "tied: "+tieWords(p, t, l.model.unit))
	}
	for _, t := range offers {
		say = append(say, tieWords(p, t, l.model.unit))
	}
	if sameWords(say, l.shown) {
		return
	}
	l.shown = say
	l.rows.RemoveAll()
	for i, t := range p.Ties {
		l.rows.Add(l.row(p, t, true, lang.L("Give up"), lang.L("Let what is tied go its own way; sizes stay as they are."), func() { l.giveUp(i) }))
	}
	for _, t := range offers {
		l.rows.Add(l.row(p, t, false, lang.L("Tie"), lang.L("Make them equal, and keep them so."), func() { l.take(t) }))
	}
	if len(say) == 0 {
		l.rows.Add(paragraph(lang.L("Nothing in this pattern is nearly equal.")))
	}
}

func sameWords(a, b []string) bool {
	if len(a) != len(b) || a == nil != (b == nil) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func (l *tieList) row(p profile.Pattern, t profile.Tie, inForce bool, word, hint string, do func()) fyne.CanvasObject {
	text := paragraph(tieWords(p, t, l.model.unit))
	if inForce {
		text.TextStyle.Bold = true
	}
	look := l.line.button("›", lang.L("Show the first of them."), func() { l.model.selectElement(firstOf(t)) })
	look.Importance = widget.LowImportance
	return container.NewBorder(nil, nil, look, container.NewCenter(l.line.button(word, hint, do)), text)
}

// firstOf is the first element a tie speaks of.
func firstOf(t profile.Tie) int {
	switch t.Kind {
	case profile.Equal:
		return t.Places[0].Element
	case profile.Tangent:
		return t.Joint - 1
	}
	return t.Groups[0]
}

func (l *tieList) take(t profile.Tie) {
	err := l.model.edit(lang.L("tie"), "", func(p profile.Pattern) (profile.Pattern, error) { return profile.AddTie(p, t) })
	if err != nil {
		l.say(plainly(err))
		return
	}
	l.model.selectElement(firstOf(t))
}

func (l *tieList) giveUp(i int) {
	err := l.model.edit(lang.L("give up a tie"), "", func(p profile.Pattern) (profile.Pattern, error) { return profile.RemoveTie(p, i) })
	if err != nil {
		l.say(plainly(err))
	}
}

// tieWords says what a tie holds equal.
func tieWords(p profile.Pattern, t profile.Tie, u profile.Unit) string {
	switch t.Kind {
	case profile.Equal:
		var places []string
		for _, at := range t.Places {
			places = append(places, tiedPlace(p, at))
		}
		d, _ := p.Size(t.Places[0])
		return phrase("{{.Places}}: one diameter, about {{.D}}", "Places", listed(places), "D", long(d, u))
	case profile.Tangent:
		return phrase("{{.A}} runs into {{.B}} without a corner", "A", elementWords(p, t.Joint-1), "B", elementWords(p, t.Joint))
	}
	var groups []string
	for _, g := range t.Groups {
		if t.Count == 1 {
			groups = append(groups, elementWords(p, g))
			continue
		}
		groups = append(groups, runs(g, t.Count))
	}
	if t.Kind == profile.Mirrored {
		return phrase("{{.Groups}}: each other's mirror image", "Groups", listed(groups))
	}
	return phrase("{{.Groups}}: the same", "Groups", listed(groups))
}

func elementWords(p profile.Pattern, i int) string {
	return lang.L(string(p.Elements[i].Kind)) + " " + number(i+1)
}

func tiedPlace(p profile.Pattern, at profile.Place) string {
	words := elementWords(p, at.Element)
	if at.Spot == profile.Middle && p.Elements[at.Element].Sagitta > 0 {
		return phrase("{{.Element}} at its crest", "Element", words)
	}
	if at.Spot == profile.Middle {
		return phrase("{{.Element}} at its bottom", "Element", words)
	}
	return words
}
