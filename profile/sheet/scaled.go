package sheet

import (
	"image"
	"math"
)

// scaled stretches marks to undo what a printer does to them: x by sx and y by sy, about the page's corner.
type scaled struct {
	to     Surface
	sx, sy float64
}

var _ Surface = scaled{}

func (s scaled) point(p Point) Point { return Point{p.X * s.sx, p.Y * s.sy} }

func (s scaled) points(pts []Point) []Point {
	out := make([]Point, len(pts))
	for i, p := range pts {
		out[i] = s.point(p)
	}
	return out
}

func (s scaled) Stroke(pts []Point, closed bool, pen Pen) { s.to.Stroke(s.points(pts), closed, pen) }

func (s scaled) Fill(pts []Point, grey float64, layer Layer) { s.to.Fill(s.points(pts), grey, layer) }

func (s scaled) Arc(b Bow, pen Pen) {
	if s.sx != s.sy {
		s.Stroke(b.flatten(), false, pen)
		return
	}
	b.Centre, b.R = s.point(b.Centre), b.R*s.sx
	s.to.Arc(b, pen)
}

// Write keeps letters undistorted and no larger than the space laid out for them.
func (s scaled) Write(t Text) {
	t.At = s.point(t.At)
	t.Cap *= math.Min(s.sx, s.sy)
	s.to.Write(t)
}

func (s scaled) Picture(img image.Image, at Point, width, height float64) {
	s.to.Picture(img, s.point(at), width*s.sx, height*s.sy)
}
