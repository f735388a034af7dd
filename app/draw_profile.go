package app

import (
	"math"

	"spindlestick/profile"

	"fyne.io/fyne/v2/lang"
)

// drawProfile draws the pattern as the turned piece, with the measured trace over it.
func (f frame) drawProfile(b brush) {
	t := f.bands.profile
	b.fill(0, t.top, float64(b.img.Rect.Dx())/b.scale, t.height, f.colours.paper)
	for i, e := range f.pattern.Elements {
		upper, lower := f.meridian(e)
		body := append(append([]point(nil), upper...), reversed(lower)...)
		fill := f.colours.wood
		if i == f.selected {
			fill = mix(fill, f.colours.chosen, 0.35)
		}
		if e.State == profile.Damaged || e.State == profile.Inferred || e.State == profile.Hidden {
			fill = faded(fill, 0.45)
		}
		b.polygon(body, fill)
		b.stroke(upper, 1.4, f.colours.ink)
		b.stroke(lower, 1.4, f.colours.ink)
		f.drawFacets(b, e)
	}
	f.drawSteps(b)
	f.drawTrace(b)
	left, right := f.scope.x(0)-14, f.scope.x(f.pattern.Length)+14
	b.dashed(point{left, t.mid()}, point{right, t.mid()}, 0.8, 9, f.colours.faint)
	f.drawWords(b)
	f.drawHandles(b)
}

// meridian returns the two edges of an element on the profile track, from X0 to X1.
func (f frame) meridian(e profile.Element) (upper, lower []point) {
	for _, s := range e.Segments() {
		n := 1
		if !s.Straight() {
			n = int(math.Min(48, math.Max(6, (s.X1-s.X0)*f.scope.perMM/3)))
		}
		for i := range n + 1 {
			// Points bunch at the ends of an arc, where a semicircle is steep.
			w := 0.5 - 0.5*math.Cos(math.Pi*float64(i)/float64(n))
			x := s.X0 + w*(s.X1-s.X0)
			r := s.At(x)
			if e.Kind == profile.Shoulder && e.Side > 0 {
				r = math.Min(r, e.Side/2) // face on, the flats hide what stands over them
			}
			upper = append(upper, point{f.scope.x(x), f.profileY(r)})
			lower = append(lower, point{f.scope.x(x), f.profileY(-r)})
		}
	}
	return upper, lower
}

func reversed(p []point) []point {
	out := make([]point, len(p))
	for i := range p {
		out[len(p)-1-i] = p[i]
	}
	return out
}

// drawFacets marks a square by the diagonals of its face, as drawings do for flats.
func (f frame) drawFacets(b brush, e profile.Element) {
	if e.Kind != profile.Square {
		return
	}
	x0, x1 := f.scope.x(e.X0), f.scope.x(e.X1)
	y0, y1 := f.profileY(e.D0/2), f.profileY(-e.D0/2)
	b.stroke([]point{{x0, y0}, {x1, y1}}, 0.7, f.colours.faint)
	b.stroke([]point{{x0, y1}, {x1, y0}}, 0.7, f.colours.faint)
}

// drawSteps draws the shoulders between elements and the two ends.
func (f frame) drawSteps(b brush) {
	at := func(x, r0, r1 float64) {
		sx := f.scope.x(x)
		b.stroke([]point{{sx, f.profileY(r0)}, {sx, f.profileY(r1)}}, 1.4, f.colours.ink)
		b.stroke([]point{{sx, f.profileY(-r0)}, {sx, f.profileY(-r1)}}, 1.4, f.colours.ink)
	}
	els := f.pattern.Elements
	for i := 1; i < len(els); i++ {
		at(els[i].X0, seen(els[i-1], els[i-1].D1)/2, seen(els[i], els[i].D0)/2)
	}
	if n := len(els); n > 0 {
		at(0, 0, seen(els[0], els[0].D0)/2)
		at(els[n-1].X1, 0, seen(els[n-1], els[n-1].D1)/2)
	}
}

// seen is the diameter as it shows face on.
func seen(e profile.Element, d float64) float64 {
	if e.Kind == profile.Shoulder && e.Side > 0 {
		return math.Min(d, e.Side)
	}
	return d
}

// drawTrace draws the measured profile as fine dots, so that a pattern that departs from it shows.
func (f frame) drawTrace(b brush) {
	last := math.Inf(-1)
	for _, s := range f.trace.Samples {
		x := f.scope.x(s.X)
		if x < -2 || x > float64(b.img.Rect.Dx())/b.scale+2 || x-last < 2.5 || s.State != profile.Visible {
			continue
		}
		last = x
		for _, y := range []float64{f.profileY(s.R), f.profileY(-s.R)} {
			b.fill(x-0.6, y-0.6, 1.2, 1.2, f.colours.warn)
		}
	}
}

// drawWords names the elements where there is room.
func (f frame) drawWords(b brush) {
	const size = 11
	t := f.bands.profile
	for i, e := range f.pattern.Elements {
		x0, x1 := f.scope.x(e.X0), f.scope.x(e.X1)
		word := lang.L(string(e.Kind))
		colour := f.colours.ink
		if i == f.selected {
			colour = f.colours.chosen
		}
		if w := b.width(word, size, false); w+6 <= x1-x0 {
			b.text(word, (x0+x1-w)/2, t.top+15, size, i == f.selected, colour)
		}
		if i < len(f.weak) && f.weak[i].word != "" {
			f.drawWeak(b, (x0+x1)/2)
		}
	}
}

// drawWeak marks an element whose numbers are weak: a sign of its own, so that no meaning hangs on its colour.
func (f frame) drawWeak(b brush, x float64) {
	const half, height = 6.0, 10.0
	foot := f.bands.profile.top + 31
	b.polygon([]point{{x - half, foot}, {x, foot - height}, {x + half, foot}}, f.colours.warn)
	b.fill(x-0.7, foot-height+3.5, 1.4, 3.2, f.colours.paper)
	b.fill(x-0.7, foot-2.4, 1.4, 1.4, f.colours.paper)
}

// drawHandles draws the selected element's diameters.
func (f frame) drawHandles(b brush) {
	for _, h := range f.handles() {
		size := 4.0
		if f.hot == h.grip {
			size = 6
		}
		for _, y := range []float64{f.profileY(h.d / 2), f.profileY(-h.d / 2)} {
			diamond(b, point{h.x, y}, size+1.5, f.colours.paper)
			diamond(b, point{h.x, y}, size, f.colours.chosen)
		}
	}
}

func diamond(b brush, c point, r float64, colour colour) {
	b.polygon([]point{{c.x - r, c.y}, {c.x, c.y - r}, {c.x + r, c.y}, {c.x, c.y + r}}, colour)
}
