package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"spindlestick/profile"
	"spindlestick/profile/check"
)

// readingEntry takes the readings one after the other, so that a hand never leaves the keys: Enter takes one and goes on,
// the arrows go along the piece, Page Up and Page Down from copy to copy.
type readingEntry struct {
	hintEntry
	copies *copies
}

func newReadingEntry(line *statusLine, c *copies) *readingEntry {
	e := &readingEntry{copies: c}
	e.line, e.hint = line, lang.L("The diameter that the calipers show. Enter takes it and goes on, with nothing it skips, 0 takes a reading back; the arrows go along the piece, Page Up and Page Down to another copy.")
	e.ExtendBaseWidget(e)
	e.OnSubmitted = func(text string) { c.take(text) }
	return e
}

// TypedKey is for Fyne.
func (e *readingEntry) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyUp:
		e.copies.goTo(e.copies.chosen, e.copies.place-1)
	case fyne.KeyDown:
		e.copies.goTo(e.copies.chosen, e.copies.place+1)
	case fyne.KeyPageUp:
		e.copies.goTo(e.copies.chosen-1, e.copies.place)
	case fyne.KeyPageDown:
		e.copies.goTo(e.copies.chosen+1, e.copies.place)
	default:
		e.Entry.TypedKey(key)
	}
}

// gauged reports whether the copy chosen is read with calipers.
func (c *copies) gauged() bool {
	all := c.set().Copies
	return c.chosen < len(all) && all[c.chosen].Gauged && len(c.gauges) > 0
}

// showPlace asks for the reading in hand.
func (c *copies) showPlace() {
	if !c.gauged() {
		c.ask.SetText("")
		c.entry.SetText("")
		c.entry.Disable()
		return
	}
	c.entry.Enable()
	g, u := c.gauges[c.place], c.window.model.unit
	c.ask.SetText(phrase("{{.Copy}}, at {{.At}}, {{.What}}: {{.Size}}", "Copy", c.set().Copies[c.chosen].Name, "At", length(g.X, u),
		"What", gaugeWords(g), "Size", length(g.Diameter, u)))
	text := ""
	if rows := c.rows(); c.place < len(rows) && !rows[c.place].Absent {
		text = length(rows[c.place].Copy, u)
	}
	c.entry.SetText(text)
	c.entry.TypedShortcut(&fyne.ShortcutSelectAll{}) // so that typing replaces it
	c.table.Refresh()
}

// goTo takes a place of a copy in hand, if there is one.
func (c *copies) goTo(copied, place int) {
	if copied < 0 || copied >= len(c.set().Copies) || place < 0 || place >= len(c.gauges) {
		return
	}
	c.chosen, c.place = copied, place
	c.list.Refresh()
	c.showPlace()
	if c.gauged() {
		c.table.ScrollTo(tableRow(place))
	}
}

// take takes a reading and goes on.
func (c *copies) take(text string) {
	if !c.gauged() {
		return
	}
	if strings.TrimSpace(text) == "" {
		c.next()
		return
	}
	d, err := profile.ParseLength(text, c.window.model.unit)
	if err != nil {
		c.window.say(plainly(err))
		return
	}
	g := c.gauges[c.place]
	if d != 0 {
		if err := g.Accept(d); err != nil {
			c.window.say(spoken(err.Error()))
			return
		}
	}
	before, shown := length(c.rows()[c.place].Copy, c.window.model.unit), strings.TrimSpace(text)
	if c.rows()[c.place].Absent || before != shown { // a figure that is shown rounded is not read anew
		c.put(d)
	}
	c.next()
}

// put keeps a reading of the place in hand; 0 takes it back.
func (c *copies) put(d float64) {
	set := c.set()
	all := append([]check.Piece(nil), set.Copies...)
	all[c.chosen] = all[c.chosen].Put(c.gauges, c.place, d)
	set.Copies = all
	c.window.model.keepCopies(lang.L("take a reading"), "", set)
}

// next goes to the next place to read: of this copy, then of the next one; or of the next copy, then at the next place.
func (c *copies) next() {
	copied, place := c.chosen, c.place
	for range len(c.set().Copies) * len(c.gauges) {
		copied, place = c.after(copied, place)
		if copied < 0 {
			c.window.say(lang.L("That was the last place of the last copy."))
			return
		}
		if c.set().Copies[copied].Gauged {
			c.goTo(copied, place)
			return
		}
	}
}

// after is the place that follows one; -1 after the last.
func (c *copies) after(copied, place int) (int, int) {
	n := len(c.set().Copies)
	if c.across {
		if copied++; copied == n {
			copied, place = 0, place+1
		}
	} else if place++; place == len(c.gauges) {
		copied, place = copied+1, 0
	}
	if copied >= n || place >= len(c.gauges) {
		return -1, 0
	}
	return copied, place
}

// focus gives the keyboard to the field for readings.
func (c *copies) focus() {
	if c.gauged() {
		c.window.win.Canvas().Focus(c.entry)
	}
}

// whatWords is a row's element and what of it, in the user's language.
func whatWords(r check.Row) string { return spotWords(r.What, r.Side) }

func gaugeWords(g check.Gauge) string { return spotWords(g.What, g.Side) }

func spotWords(what string, side check.Side) string {
	out := spokenClause(what)
	if a, b, ok := strings.Cut(what, ", "); ok {
		out = spokenClause(a) + ", " + spokenClause(b)
	} else if a, b, ok := strings.Cut(what, " to "); ok {
		out = phrase("{{.A}} to {{.B}}", "A", spokenClause(a), "B", spokenClause(b))
	}
	if side != check.OneSize {
		out += " (" + spokenClause(string(side)) + ")"
	}
	return out
}
