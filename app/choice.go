package app

import (
	"slices"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
)

// newChoice chooses one of the program's own words, shown in the user's language. now is chosen at first, and told at once.
func newChoice[S ~string](options []S, now S, chosen func(S)) *widget.Select {
	var labels []string
	for _, o := range options {
		labels = append(labels, lang.L(string(o)))
	}
	c := widget.NewSelect(labels, nil)
	c.OnChanged = func(string) { chosen(options[c.SelectedIndex()]) }
	c.SetSelectedIndex(max(0, slices.Index(options, now)))
	return c
}
