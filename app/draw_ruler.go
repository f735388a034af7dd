package app

import (
	"image/color"
	"math"

	"spindlestick/profile"
)

type colour = color.NRGBA

// mix returns a with a share of b in it.
func mix(a, b colour, share float64) colour {
	m := func(p, q uint8) uint8 { return uint8(math.Round(float64(p) + share*(float64(q)-float64(p)))) }
	return color.NRGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), m(a.A, b.A)}
}

// drawRuler draws the axis in the chosen unit, from the hook end.
func (f frame) drawRuler(b brush) {
	t := f.bands.ruler
	width := float64(b.img.Rect.Dx()) / b.scale
	b.fill(0, t.top, width, t.height, f.colours.ground)
	k := tickFor(f.scope.perMM, f.unit, 46)
	first := math.Floor(f.scope.station(0) / k.mm)
	for i := first; f.scope.x(i*k.mm) < width; i++ {
		x := f.scope.x(i * k.mm)
		b.stroke([]point{{x, t.top}, {x, t.top + 9}}, 1, f.colours.ink)
		label := figure(i*k.mm, f.unit)
		b.text(label, x-b.width(label, 10, false)/2, t.bottom()-4, 10, false, f.colours.ink)
		for j := 1; j < k.parts; j++ {
			sx := x + float64(j)/float64(k.parts)*k.mm*f.scope.perMM
			b.stroke([]point{{sx, t.top}, {sx, t.top + 4}}, 0.8, f.colours.faint)
		}
	}
}

// figure writes a ruler's number as short as it goes.
func figure(mm float64, u profile.Unit) string {
	if u == profile.MM {
		return local(profile.FormatCompact(mm))
	}
	if u == profile.Inch {
		return local(profile.FormatCompact(mm / profile.MMPerInch))
	}
	return profile.FormatFraction(mm, 8)
}
