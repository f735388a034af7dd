package app

import (
	"math"

	"spindlestick/profile"
)

// drawStick draws the story stick as it will lie on the blank: the lip at the hook end, a line a station, and the
// diameters where there is room. Zooming in makes room for the rest.
func (f frame) drawStick(b brush) {
	t := f.bands.stick
	width := float64(b.img.Rect.Dx()) / b.scale
	b.fill(0, t.top, width, t.height, f.colours.paper)
	x0, x1 := f.scope.x(0), f.scope.x(f.pattern.Length)
	top, bottom := t.top+6, t.bottom()-6
	b.fill(x0, top, x1-x0, bottom-top, mix(f.colours.paper, f.colours.wood, 0.35))
	b.fill(x0-7, top, 7, bottom-top, f.colours.ink) // the lip
	b.stroke([]point{{x0, top}, {x1, top}, {x1, bottom}, {x0, bottom}, {x0, top}}, 1, f.colours.ink)
	rows := f.stickRows(b, top, bottom)
	for i, s := range f.stations {
		if s.Role != profile.Edge {
			continue
		}
		x := f.scope.x(s.X)
		b.stroke([]point{{x, top}, {x, bottom}}, 1, f.colours.ink)
		_ = i
	}
	for _, l := range rows {
		b.fill(l.x-1, l.y-l.size, l.width+2, l.size+3, mix(f.colours.paper, f.colours.wood, 0.35))
		b.text(l.text, l.x, l.y, l.size, true, f.colours.ink)
	}
}

// label is a laid out piece of text.
type label struct {
	text        string
	x, y        float64 // baseline's left end
	width, size float64
}

// stickRows lays the stations' diameters out in rows; one that finds no free place is left out.
func (f frame) stickRows(b brush, top, bottom float64) []label {
	const size, line = 11, 15
	n := int((bottom - top - 4) / line)
	if n < 1 {
		return nil
	}
	ends := make([]float64, n)
	for i := range ends {
		ends[i] = math.Inf(-1)
	}
	var out []label
	for _, s := range f.stations {
		text := stickFigure(s, f.unit)
		w := b.width(text, size, true)
		x := f.scope.x(s.X) + 3
		if s.X >= f.pattern.Length {
			x = f.scope.x(s.X) - w - 3
		}
		for i := range ends {
			if x > ends[i]+4 {
				out = append(out, label{text, x, top + 14 + float64(i)*line, w, size})
				ends[i] = x + w
				break
			}
		}
	}
	return out
}

// stickFigure is what stands at a station: one diameter, or both at a square shoulder.
func stickFigure(s profile.Station, u profile.Unit) string {
	if s.Step(stepShown) {
		return short(s.Before, u) + " | " + short(s.After, u)
	}
	return short(s.Diameter(), u)
}

// stepShown is the smallest difference of diameters shown as a step, mm: what a caliper tells apart (0.05 mm vernier,
// DIN 862) twice over.
const stepShown = 0.1
