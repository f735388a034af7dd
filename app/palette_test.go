package app

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// luminance and contrast are the relative luminance and the contrast ratio of WCAG 2.1.
func luminance(c colour) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

func contrast(a, b colour) float64 {
	p, q := luminance(a)+0.05, luminance(b)+0.05
	return math.Max(p, q) / math.Min(p, q)
}

// TestTextStandsOutFromItsGround: WCAG 2.1 asks 7 to 1 of body text (1.4.6), 4.5 of other text (1.4.3), 3 of marks (1.4.11).
func TestTextStandsOutFromItsGround(t *testing.T) {
	for _, v := range []fyne.ThemeVariant{theme.VariantLight, theme.VariantDark} {
		p := paletteFor(v)
		for _, c := range []struct {
			name  string
			a, b  colour
			least float64
		}{
			{"ink on ground", p.ink, p.ground, 7}, {"ink on paper", p.ink, p.paper, 7}, {"chosen on paper", p.chosen, p.paper, 4.5},
			{"chosen on ground", p.chosen, p.ground, 4.5}, {"warn on ground", p.warn, p.ground, 4.5}, {"warn on paper", p.warn, p.paper, 4.5},
			{"words on a main button", p.onChosen(), p.chosen, 4.5}, {"ink on a button", p.ink, mix(p.paper, p.wood, 0.22), 7}, {"outline on wood", p.ink, p.wood, 3},
		} {
			if got := contrast(c.a, c.b); got < c.least {
				t.Errorf("variant %d: %s: %.2f to 1, want %v", v, c.name, got, c.least)
			}
		}
	}
}

// TestMarksShowOnAnyWood: every mark on the photograph is light over dark, so one of the two stands out from whatever lies
// below (3 to 1, WCAG 2.1, 1.4.11), from ebony to bleached maple, in any light.
func TestMarksShowOnAnyWood(t *testing.T) {
	p := paletteFor(theme.VariantLight)
	for grey := range 256 {
		wood := colour{R: uint8(grey), G: uint8(grey), B: uint8(grey), A: 255}
		under := mix(wood, colour{R: p.under.R, G: p.under.G, B: p.under.B, A: 255}, float64(p.under.A)/255)
		if best := math.Max(contrast(p.mark, wood), contrast(under, wood)); best < 3 {
			t.Errorf("on grey %d the mark has %.2f to 1", grey, best)
		}
		if got := contrast(p.mark, under); got < 3 {
			t.Errorf("on grey %d the mark has %.2f to 1 over its own rim", grey, got)
		}
	}
}
