package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// statusLine is the line at the foot of the window: the last message, and over it the hint of the control in hand.
type statusLine struct {
	label *widget.Label
	said  string
	under any // whose hint is shown; nil = none
}

// say shows a message.
func (s *statusLine) say(text string) {
	s.said, s.under = text, nil
	s.label.SetText(text)
}

// hint shows what a control is for, until rest is called for it.
func (s *statusLine) hint(of any, text string) {
	if s != nil && text != "" {
		s.under = of
		s.label.SetText(text)
	}
}

// rest shows the last message again.
func (s *statusLine) rest(of any) {
	if s != nil && s.under == of {
		s.under = nil
		s.label.SetText(s.said)
	}
}

// The controls that tell their hint when the pointer comes over them or the keyboard comes to them.
type (
	hintButton struct {
		widget.Button
		line *statusLine
		hint string
	}
	hintEntry struct {
		widget.Entry
		line  *statusLine
		hint  string
		leave func() // what Esc does; nil = nothing
	}
	hintSelect struct {
		widget.Select
		line *statusLine
		hint string
	}
	hintCheck struct {
		widget.Check
		line *statusLine
		hint string
	}
)

var (
	_ desktop.Hoverable = (*hintButton)(nil)
	_ desktop.Hoverable = (*hintEntry)(nil)
	_ desktop.Hoverable = (*hintSelect)(nil)
	_ desktop.Hoverable = (*hintCheck)(nil)
)

// button is a button with a hint.
func (s *statusLine) button(words, hint string, do func()) *hintButton {
	b := &hintButton{line: s, hint: hint}
	b.Text, b.OnTapped = words, do
	b.ExtendBaseWidget(b)
	return b
}

// entry is a field with a hint.
func (s *statusLine) entry(hint string) *hintEntry {
	e := &hintEntry{line: s, hint: hint}
	e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	e.ExtendBaseWidget(e)
	return e
}

// choice is a list to choose from, with a hint.
func (s *statusLine) choice(options []string, hint string, chosen func(string)) *hintSelect {
	c := &hintSelect{line: s, hint: hint}
	c.Options, c.OnChanged = options, chosen
	c.ExtendBaseWidget(c)
	return c
}

// check is a box to tick, with a hint.
func (s *statusLine) check(words, hint string, changed func(bool)) *hintCheck {
	c := &hintCheck{line: s, hint: hint}
	c.Text, c.OnChanged = words, changed
	c.ExtendBaseWidget(c)
	return c
}

// MouseIn is for Fyne.
func (b *hintButton) MouseIn(e *desktop.MouseEvent) { b.line.hint(b, b.hint); b.Button.MouseIn(e) }

// MouseOut is for Fyne.
func (b *hintButton) MouseOut() { b.line.rest(b); b.Button.MouseOut() }

// FocusGained is for Fyne.
func (b *hintButton) FocusGained() { b.line.hint(b, b.hint); b.Button.FocusGained() }

// FocusLost is for Fyne.
func (b *hintButton) FocusLost() { b.line.rest(b); b.Button.FocusLost() }

// MouseIn is for Fyne.
func (e *hintEntry) MouseIn(*desktop.MouseEvent) { e.line.hint(e, e.hint) }

// MouseMoved is for Fyne.
func (e *hintEntry) MouseMoved(*desktop.MouseEvent) {}

// MouseOut is for Fyne.
func (e *hintEntry) MouseOut() { e.line.rest(e) }

// FocusGained is for Fyne.
func (e *hintEntry) FocusGained() { e.line.hint(e, e.hint); e.Entry.FocusGained() }

// FocusLost is for Fyne.
func (e *hintEntry) FocusLost() { e.line.rest(e); e.Entry.FocusLost() }

// MouseIn is for Fyne.
func (c *hintSelect) MouseIn(e *desktop.MouseEvent) { c.line.hint(c, c.hint); c.Select.MouseIn(e) }

// MouseOut is for Fyne.
func (c *hintSelect) MouseOut() { c.line.rest(c); c.Select.MouseOut() }

// TypedKey is for Fyne.
func (e *hintEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape && e.leave != nil {
		e.leave()
		return
	}
	e.Entry.TypedKey(k)
}

// FocusGained is for Fyne.
func (c *hintSelect) FocusGained() { c.line.hint(c, c.hint); c.Select.FocusGained() }

// FocusLost is for Fyne.
func (c *hintSelect) FocusLost() { c.line.rest(c); c.Select.FocusLost() }

// MouseIn is for Fyne.
func (c *hintCheck) MouseIn(e *desktop.MouseEvent) { c.line.hint(c, c.hint); c.Check.MouseIn(e) }

// MouseOut is for Fyne.
func (c *hintCheck) MouseOut() { c.line.rest(c); c.Check.MouseOut() }

// FocusGained is for Fyne.
func (c *hintCheck) FocusGained() { c.line.hint(c, c.hint); c.Check.FocusGained() }

// FocusLost is for Fyne.
func (c *hintCheck) FocusLost() { c.line.rest(c); c.Check.FocusLost() }
