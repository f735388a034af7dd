package sheet

import (
	"image"
	"math"
)

// folded lays marks on the other side of a fold: what stands over the line Y = fold comes to stand under it, with its
// letters upside down, so that it reads when the paper is folded back and turned over.
type folded struct {
	to   Surface
	fold float64 // mm
}

var _ Surface = folded{}

func (s folded) point(p Point) Point { return Point{p.X, 2*s.fold - p.Y} }

func (s folded) points(pts []Point) []Point {
	out := make([]Point, len(pts))
	for i, p := range pts {
		out[i] = s.point(p)
	}
	return out
}

func (s folded) Stroke(pts []Point, closed bool, pen Pen) { s.to.Stroke(s.points(pts), closed, pen) }

func (s folded) Fill(pts []Point, grey float64, layer Layer) { s.to.Fill(s.points(pts), grey, layer) }

func (s folded) Arc(b Bow, pen Pen) {
	b.Centre = s.point(b.Centre)
	b.From, b.To = -b.To, -b.From
	s.to.Arc(b, pen)
}

// Write turns the text half round within the place that the fold gives it. Letters are not symmetrical about their
// baseline, so a text that runs upright moves by the difference.
func (s folded) Write(t Text) {
	t.At = s.point(t.At)
	sin, cos := math.Sincos(t.Turn)
	t.At.X -= sin * (1 - descent) * t.Cap
	if cos > 0.5 {
		t.Anchor = End - t.Anchor
	}
	t.Turn += math.Pi
	s.to.Write(t)
}

func (s folded) Picture(img image.Image, at Point, width, height float64) {
	s.to.Picture(img, Point{at.X, 2*s.fold - at.Y - height}, width, height)
}
