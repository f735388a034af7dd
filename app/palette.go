package app

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// palette is the tracks' colours. Marks on the photograph are drawn dark under light, so they show on any wood; no
// meaning hangs on hue alone.
type palette struct {
	ground, paper, ink, faint, wood, mark, warm, under, chosen, warn color.NRGBA
}

func paletteFor(v fyne.ThemeVariant) palette {
	p := palette{
		ground: color.NRGBA{0xe9, 0xe4, 0xda, 0xff}, paper: color.NRGBA{0xfb, 0xf9, 0xf4, 0xff},
		ink: color.NRGBA{0x2b, 0x26, 0x20, 0xff}, faint: color.NRGBA{0x2b, 0x26, 0x20, 0x50},
		wood: color.NRGBA{0xd3, 0xb4, 0x8c, 0xff}, mark: color.NRGBA{0xff, 0xf3, 0xc4, 0xff}, warm: color.NRGBA{0xff, 0xb0, 0x3a, 0xff},
		under: color.NRGBA{0x14, 0x12, 0x10, 0xb0}, chosen: color.NRGBA{0x0f, 0x5e, 0x8c, 0xff}, warn: color.NRGBA{0x9c, 0x2f, 0x00, 0xff},
	}
	if v == theme.VariantDark {
		p.ground, p.paper = color.NRGBA{0x24, 0x22, 0x1f, 0xff}, color.NRGBA{0x2f, 0x2c, 0x28, 0xff}
		p.ink, p.faint = color.NRGBA{0xee, 0xe7, 0xda, 0xff}, color.NRGBA{0xee, 0xe7, 0xda, 0x50}
		p.wood, p.chosen, p.warn = color.NRGBA{0x8a, 0x6d, 0x4b, 0xff}, color.NRGBA{0x6f, 0xc0, 0xea, 0xff}, color.NRGBA{0xff, 0xa3, 0x6b, 0xff}
	}
	return p
}

// onChosen is the colour of words on what is chosen: paper on the dark blue of the light theme, the ground on the light blue
// of the dark one.
func (p palette) onChosen() color.NRGBA {
	if p.ink.R > p.ground.R {
		return p.ground
	}
	return p.paper
}

// faded returns c at a share of its opacity.
func faded(c color.NRGBA, share float64) color.NRGBA {
	c.A = uint8(float64(c.A) * share)
	return c
}
