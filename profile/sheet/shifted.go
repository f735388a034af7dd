package sheet

import (
	"image"
	"math"
)

// quarterTurn turns a text so that it reads from below.
const quarterTurn = math.Pi / 2

// shifted moves marks down.
type shifted struct {
	to   Surface
	down float64 // mm
}

var _ Surface = shifted{}

func (s shifted) points(pts []Point) []Point {
	out := make([]Point, len(pts))
	for i, p := range pts {
		out[i] = Point{p.X, p.Y + s.down}
	}
	return out
}

func (s shifted) Stroke(pts []Point, closed bool, pen Pen) { s.to.Stroke(s.points(pts), closed, pen) }

func (s shifted) Fill(pts []Point, grey float64, layer Layer) { s.to.Fill(s.points(pts), grey, layer) }

func (s shifted) Arc(b Bow, pen Pen) {
	b.Centre.Y += s.down
	s.to.Arc(b, pen)
}

func (s shifted) Write(t Text) {
	t.At.Y += s.down
	s.to.Write(t)
}

func (s shifted) Picture(img image.Image, at Point, width, height float64) {
	at.Y += s.down
	s.to.Picture(img, at, width, height)
}
