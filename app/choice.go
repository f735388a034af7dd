package app

import (
	"slices"

	"fyne.io/fyne/v2/lang"
)

// newChoice chooses one of the program's own words, shown in the user's language, with a hint. now is chosen at first, and
// told at once.
func newChoice[S ~string](line *statusLine, hint string, options []S, now S, chosen func(S)) *hintSelect {
	var labels []string
	for _, o := range options {
		labels = append(labels, lang.L(string(o)))
	}
	c := line.choice(labels, hint, nil)
	c.OnChanged = func(string) { chosen(options[c.SelectedIndex()]) }
	c.SetSelectedIndex(max(0, slices.Index(options, now)))
	return c
}
