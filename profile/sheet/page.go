package sheet

import "image"

// Page is a sheet of paper with its marks: a Surface that remembers what was drawn, so that any format can be made
// of it, and a test can read it.
type Page struct {
	Name          string  // what it shows, for people
	Width, Height float64 // mm
	Marks         []Mark
}

// Mark is one thing on a page: Line, Curve, Area, Text or Image.
type Mark interface{ draw(Surface) }

// Line is a polyline on a page.
type Line struct {
	Pts    []Point
	Closed bool
	Pen    Pen
}

// Curve is an arc on a page.
type Curve struct {
	Bow
	Pen Pen
}

// Area is a filled polygon on a page.
type Area struct {
	Pts   []Point
	Grey  float64
	Layer Layer
}

// Image is a picture on a page.
type Image struct {
	Img           image.Image
	At            Point // its top-left corner
	Width, Height float64
}

func (l Line) draw(s Surface)  { s.Stroke(l.Pts, l.Closed, l.Pen) }
func (c Curve) draw(s Surface) { s.Arc(c.Bow, c.Pen) }
func (a Area) draw(s Surface)  { s.Fill(a.Pts, a.Grey, a.Layer) }
func (t Text) draw(s Surface)  { s.Write(t) }
func (m Image) draw(s Surface) { s.Picture(m.Img, m.At, m.Width, m.Height) }

var _ Surface = (*Page)(nil)

// Stroke implements Surface.
func (p *Page) Stroke(pts []Point, closed bool, pen Pen) {
	p.Marks = append(p.Marks, Line{append([]Point(nil), pts...), closed, pen})
}

// Arc implements Surface.
func (p *Page) Arc(b Bow, pen Pen) { p.Marks = append(p.Marks, Curve{b, pen}) }

// Fill implements Surface.
func (p *Page) Fill(pts []Point, grey float64, layer Layer) {
	p.Marks = append(p.Marks, Area{append([]Point(nil), pts...), grey, layer})
}

// Write implements Surface.
func (p *Page) Write(t Text) {
	t.S = printable(t.S)
	if t.S != "" {
		p.Marks = append(p.Marks, t)
	}
}

// Picture implements Surface.
func (p *Page) Picture(img image.Image, at Point, width, height float64) {
	p.Marks = append(p.Marks, Image{img, at, width, height})
}

// Draw repeats the page's marks on another surface.
func (p *Page) Draw(s Surface) {
	for _, m := range p.Marks {
		m.draw(s)
	}
}

// Document is a set of sheets.
type Document struct {
	Title string
	Pages []Page
	// Whole is everything on one surface, without joins, every outline at full size and no printer's error undone: what
	// SVG and DXF show.
	Whole Page
	// List is what CSV and JSON show.
	List StationList
}
