package app

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// look is the window's theme: the standard one in the colours of a wood shop, in light and dark.
type look struct{ fyne.Theme }

func newLook() fyne.Theme { return look{theme.DefaultTheme()} }

// Color returns the colour for a name of Fyne's.
func (l look) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	p := paletteFor(v)
	switch name {
	case theme.ColorNameBackground:
		return p.ground
	case theme.ColorNameForeground:
		return p.ink
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return p.chosen
	case theme.ColorNameForegroundOnPrimary:
		return p.onChosen()
	case theme.ColorNameFocus:
		return faded(p.chosen, 0.32) // it lies under words
	case theme.ColorNameInputBackground, theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground:
		return p.paper
	case theme.ColorNameSelection:
		return faded(p.chosen, 0.3)
	case theme.ColorNameHeaderBackground:
		return p.ground
	case theme.ColorNameButton:
		return mix(p.paper, p.wood, 0.22)
	case theme.ColorNameDisabledButton:
		return mix(p.ground, p.paper, 0.5)
	case theme.ColorNameHover:
		return faded(p.ink, 0.09)
	case theme.ColorNamePressed:
		return faded(p.ink, 0.18)
	case theme.ColorNamePlaceHolder:
		return mix(p.paper, p.ink, 0.62)
	case theme.ColorNameDisabled:
		return mix(p.ground, p.ink, 0.42)
	case theme.ColorNameSeparator, theme.ColorNameInputBorder:
		return mix(p.ground, p.ink, 0.25)
	case theme.ColorNameScrollBar:
		return faded(p.ink, 0.45)
	case theme.ColorNameWarning:
		return p.warn
	}
	return l.Theme.Color(name, v)
}

// Size returns the size for a name of Fyne's; a little tighter than the standard one, so that a small screen holds the bench.
func (l look) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameInnerPadding:
		return 6
	case theme.SizeNamePadding:
		return 3
	}
	return l.Theme.Size(name)
}
