package sheet

import (
	"image"
	"math"
)

// Point is a place on a page: mm from the left and from the top edge.
type Point struct{ X, Y float64 }

// Layer names what a mark belongs to. DXF keeps the layers apart; the other formats ignore or group by them.
type Layer string

// The layers of a sheet.
const (
	Outline  Layer = "outline"  // the meridian
	Stations Layer = "stations" // station lines and their leaders
	Centre   Layer = "centre"   // the turning axis
	Hatching Layer = "hatching" // stretches that were not seen, squares' crossed faces
	Lettered Layer = "text"
	Furnish  Layer = "sheet" // cut lines, joins, check bars
)

// Pen says how a line is drawn.
type Pen struct {
	Layer Layer
	Width float64   // mm
	Dash  []float64 // mm on, mm off, ...; empty = solid
	Grey  float64   // 0 black to 1 white
}

// Anchor says which point of a text stands at Text.At, on its baseline.
type Anchor int

// The anchors of a text.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of letters.
type Text struct {
	At     Point // the anchor, on the baseline
	S      string
	Cap    float64 // height of a capital letter, mm
	Anchor Anchor
	Turn   float64 // radians, counter-clockwise as seen
	Bold   bool
	Grey   float64
	Layer  Layer
}

// Bow is a circular arc, counter-clockwise as seen from angle From to To (radians, 0 to the right); To - From = 2π
// is a whole circle.
type Bow struct {
	Centre   Point
	R        float64 // mm
	From, To float64
}

// At returns the arc's point at an angle.
func (b Bow) At(angle float64) Point {
	return Point{b.Centre.X + b.R*math.Cos(angle), b.Centre.Y - b.R*math.Sin(angle)}
}

// Surface takes marks in mm, in the order they lie on one another.
type Surface interface {
	Stroke(pts []Point, closed bool, pen Pen)
	Arc(b Bow, pen Pen)
	Fill(pts []Point, grey float64, layer Layer)
	Write(t Text)
	Picture(img image.Image, at Point, width, height float64)
}

// line strokes a straight line.
func line(s Surface, x0, y0, x1, y1 float64, pen Pen) {
	s.Stroke([]Point{{x0, y0}, {x1, y1}}, false, pen)
}

// box strokes a rectangle.
func box(s Surface, x0, y0, x1, y1 float64, pen Pen) {
	s.Stroke([]Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, true, pen)
}

// bar fills a rectangle.
func bar(s Surface, x0, y0, x1, y1 float64, grey float64, layer Layer) {
	s.Fill([]Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, grey, layer)
}

// chordError is how far a polyline that stands for an arc may leave it, mm: a tenth of the finest line drawn.
const chordError = 0.01

// flatten returns points along the arc, ends included, no further than chordError from it: a chord over the angle a
// lies up to R a²/8 under its arc.
func (b Bow) flatten() []Point {
	step := math.Min(math.Pi/8, math.Sqrt(8*chordError/b.R))
	n := int(math.Ceil(math.Abs(b.To-b.From)/step)) + 1
	pts := make([]Point, 0, n+1)
	for i := range n + 1 {
		pts = append(pts, b.At(b.From+(b.To-b.From)*float64(i)/float64(n)))
	}
	return pts
}
