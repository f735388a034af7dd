package app

import (
	"image"

	"spindlestick/profile"
)

// draw paints the frame into an image of w x h device px, scale px a unit. It is drawn into old where that has the size, so
// that a drag does not leave an image behind with every frame.
func (f frame) draw(w, h int, scale float64, faces *faces, old *image.RGBA) *image.RGBA {
	img := canvasOf(w, h, old)
	b := brush{img: img, scale: scale, faces: faces}
	b.fill(0, 0, float64(w)/scale, float64(h)/scale, f.colours.ground)
	f.drawPhoto(b)
	f.drawProfile(b)
	f.drawRuler(b)
	f.drawStick(b)
	f.drawOverview(b)
	f.drawStations(b, f.bands.stick.bottom())
	f.drawLoupe(b)
	return img
}

// canvasOf is an image of w x h px to draw on: old, where that has the size.
func canvasOf(w, h int, old *image.RGBA) *image.RGBA {
	if old != nil && old.Rect.Dx() == w && old.Rect.Dy() == h {
		return old
	}
	return image.NewRGBA(image.Rect(0, 0, w, h))
}

// drawStations draws the lines that go through all three tracks.
func (f frame) drawStations(b brush, height float64) {
	for i, s := range f.stations {
		if s.Role != profile.Edge {
			continue
		}
		x := f.scope.x(s.X)
		edge := f.edgeOf(i)
		hot := f.hot.kind == gripStation && f.hot.at == edge
		f.stationLine(b, x, height, hot)
	}
	if f.cursor > 0 && f.selected >= 0 {
		x := f.scope.x(f.cursor)
		p := f.bands.profile
		b.dashed(point{x, p.top + 20}, point{x, p.bottom()}, 1, 3, f.colours.chosen)
	}
}

func (f frame) stationLine(b brush, x, height float64, hot bool) {
	if p := f.bands.photo; f.photo != nil && p.height > 0 {
		b.stroke([]point{{x, p.top}, {x, p.bottom()}}, 2.2, faded(f.colours.under, 0.6))
		b.stroke([]point{{x, p.top}, {x, p.bottom()}}, 0.9, faded(f.colours.mark, 0.85))
	}
	b.stroke([]point{{x, f.bands.profile.top}, {x, f.bands.ruler.bottom()}}, 0.8, f.colours.faint)
	if hot {
		b.stroke([]point{{x, 0}, {x, height}}, 2.4, f.colours.chosen)
	}
}

// edgeOf counts the edges before station i: the number that MoveStation knows it by.
func (f frame) edgeOf(i int) int {
	n := 0
	for _, s := range f.stations[:i] {
		if s.Role == profile.Edge {
			n++
		}
	}
	return n
}
