package app

import (
	"math"

	"fyne.io/fyne/v2/lang"

	"spindlestick/profile"
)

// overviewHeight is the bar that shows the whole piece, under the tracks, units.
const overviewHeight = 26

// overview is the whole piece across the bar.
func (f frame) overview() scope {
	const margin, figures = 10, 96 // beside the piece, and for the magnification at its right, units
	s := fitScope(f.pattern.Length, math.Max(1, f.width-2*margin-figures), 0)
	s.left -= margin / s.perMM
	return s
}

// shown are the stations at the tracks' left and right edge, held to the piece.
func (f frame) shown() (from, to float64) {
	return math.Max(0, f.scope.station(0)), math.Min(f.pattern.Length, f.scope.station(f.width))
}

// drawOverview draws the whole piece small, and which part of it the tracks show.
func (f frame) drawOverview(b brush) {
	t := f.bands.overview
	if t.height <= 0 || f.pattern.Length <= 0 {
		return
	}
	o := f.overview()
	b.fill(0, t.top, f.width, t.height, f.colours.ground)
	round, side := f.pattern.Largest()
	perMM := math.Min(o.perMM, 0.8*t.height/math.Max(1, math.Max(round, side)))
	for _, e := range f.pattern.Elements {
		b.polygon(small(e, o, t.mid(), perMM), f.colours.wood)
	}
	from, to := f.shown()
	x0, x1 := o.x(from), o.x(to)
	veil := faded(f.colours.ground, 0.55)
	b.fill(0, t.top, x0, t.height, veil)
	b.fill(x1, t.top, f.width-x1, t.height, veil)
	width, line := 1.4, f.colours.ink
	if f.hot.kind == gripView {
		width, line = 2.6, f.colours.chosen
	}
	b.stroke([]point{{x0, t.top + 1}, {x1, t.top + 1}, {x1, t.bottom() - 1}, {x0, t.bottom() - 1}, {x0, t.top + 1}}, width, line)
	text := phrase("{{.Percent}} % of life size", "Percent", number(int(math.Round(100*f.scope.perMM/lifeSize))))
	b.text(text, f.width-b.width(text, 11, false)-8, t.mid()+4, 11, false, f.colours.ink)
}

// small is the outline of an element on the overview bar.
func small(e profile.Element, o scope, mid, perMM float64) []point {
	const steps = 6
	var upper, lower []point
	for i := range steps + 1 {
		x := e.X0 + (e.X1-e.X0)*float64(i)/steps
		r := e.At(x) / 2 * perMM
		if e.Side > 0 {
			r = math.Min(r, e.Side/2*perMM) // a shoulder's corners lie beyond the flats
		}
		upper = append(upper, point{o.x(x), mid - r})
		lower = append(lower, point{o.x(x), mid + r})
	}
	return append(upper, reversed(lower)...)
}

// lifeSize is the screen's units a mm at life size, taking the unit as 1/96 inch (the reference pixel of CSS).
const lifeSize = 96 / profile.MMPerInch

// viewHint says what the bar does.
func viewHint() string { return lang.L("Drag the frame to move along the piece.") }
