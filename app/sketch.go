package app

import (
	"image"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"spindlestick/profile"
)

// sketch is a small explaining picture, drawn in a space of its own size, units, in the window's colours.
type sketch struct {
	width, height float64
	paint         func(p pencil)
}

// pencil draws a sketch.
type pencil struct {
	brush
	colours palette
}

// newSketch shows a sketch at its size or larger. It is drawn anew when the window's colours change.
func newSketch(s sketch) *canvas.Raster {
	r := canvas.NewRaster(s.draw)
	r.SetMinSize(fyne.NewSize(float32(s.width), float32(s.height)))
	return r
}

// draw paints the sketch into w x h device px, as large as fits, in the middle.
func (s sketch) draw(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	scale := math.Min(float64(w)/s.width, float64(h)/s.height)
	if scale <= 0 {
		return img
	}
	fonts, err := newFaces()
	if err != nil {
		return img // the words beside the sketch say the same
	}
	inner := image.NewRGBA(image.Rect(0, 0, int(s.width*scale), int(s.height*scale)))
	s.paint(pencil{brush{img: inner, scale: scale, faces: fonts}, currentPalette()})
	at := image.Pt((w-inner.Rect.Dx())/2, (h-inner.Rect.Dy())/2)
	draw.Draw(img, inner.Rect.Add(at), inner, image.Point{}, draw.Src)
	return img
}

// ground draws what the piece lies on.
func (p pencil) ground(y, width float64) {
	p.fill(4, y, width-8, 3, mix(p.colours.ground, p.colours.ink, 0.35))
}

// spindle draws a turning lengthwise from x0 to x1 about the line through (x0, y0) and (x1, y1); fat is its largest radius.
func (p pencil) spindle(x0, y0, x1, y1, fat float64) {
	pattern := sketched()
	turn := func(q point) point { return point{q.x, q.y + y0 + (y1-y0)*(q.x-x0)/(x1-x0)} }
	f := frame{pattern: pattern, scope: scope{left: -x0 * pattern.Length / (x1 - x0), perMM: (x1 - x0) / pattern.Length}}
	round, _ := pattern.Largest()
	f.profileScale = 2 * fat / round
	var upper, lower []point
	for _, e := range pattern.Elements {
		u, l := f.meridian(e)
		for i := range u {
			upper, lower = append(upper, turn(u[i])), append(lower, turn(l[i]))
		}
	}
	body := append(append([]point(nil), upper...), reversed(lower)...)
	p.polygon(body, p.colours.wood)
	p.stroke(append(body, body[0]), 1.2, p.colours.ink)
}

// sketched is the turning that the sketches show: stout at the hook end, slender at the other.
func sketched() profile.Pattern {
	return profile.Pattern{Length: 200, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 22, D0: 30, D1: 30},
		{Kind: profile.Bead, X0: 22, X1: 36, D0: 26, D1: 26, Sagitta: 6},
		{Kind: profile.Cove, X0: 36, X1: 58, D0: 30, D1: 26, Sagitta: -6},
		{Kind: profile.Bead, X0: 58, X1: 68, D0: 24, D1: 24, Sagitta: 4},
		{Kind: profile.Swell, X0: 68, X1: 160, D0: 18, D1: 16, Sagitta: 4},
		{Kind: profile.Bead, X0: 160, X1: 168, D0: 16, D1: 16, Sagitta: 3},
		{Kind: profile.Taper, X0: 168, X1: 200, D0: 15, D1: 10},
	}}
}

// board draws a scale board's face, cols x rows squares of size s, its first corner at (x, y).
func (p pencil) board(x, y, s float64, cols, rows int) {
	margin := 0.8 * s
	p.fill(x-margin, y-margin, float64(cols)*s+2*margin, float64(rows)*s+2*margin, p.colours.print())
	for i := range rows {
		for j := range cols {
			if (i+j)%2 == 0 {
				p.fill(x+float64(j)*s, y+float64(i)*s, s, s, p.colours.under)
			}
		}
	}
}

// print is the colour of printed paper, light in either theme.
func (c palette) print() colour { return colour{R: 0xfb, G: 0xf9, B: 0xf4, A: 0xff} }

// circle draws a disc with a rim.
func (p pencil) circle(x, y, r float64, fill colour) {
	var ring []point
	for i := range 33 {
		s, k := math.Sincos(float64(i) * math.Pi / 16)
		ring = append(ring, point{x + r*k, y + r*s})
	}
	p.polygon(ring, fill)
	p.stroke(ring, 1.2, p.colours.ink)
}

// camera draws a camera at (x, y) that looks along (dx, dy), a unit vector.
func (p pencil) camera(x, y, dx, dy float64) {
	at := func(along, across float64) point { return point{x + along*dx - across*dy, y + along*dy + across*dx} }
	p.polygon([]point{at(-6, -9), at(4, -9), at(4, 9), at(-6, 9)}, p.colours.ink)
	p.polygon([]point{at(4, -5), at(9, -5), at(9, 5), at(4, 5)}, p.colours.ink)
	p.polygon([]point{at(6.5, -3), at(9, -3), at(9, 3), at(6.5, 3)}, p.colours.paper)
}

// arrows draws a dimension from a to b.
func (p pencil) arrows(a, b point) {
	p.stroke([]point{a, b}, 1, p.colours.chosen)
	d := math.Hypot(b.x-a.x, b.y-a.y)
	tx, ty := (b.x-a.x)/d, (b.y-a.y)/d
	for _, end := range []struct {
		at   point
		sign float64
	}{{a, 1}, {b, -1}} {
		const long, wide = 6, 2.5
		p.polygon([]point{end.at,
			{end.at.x + end.sign*long*tx - wide*ty, end.at.y + end.sign*long*ty + wide*tx},
			{end.at.x + end.sign*long*tx + wide*ty, end.at.y + end.sign*long*ty - wide*tx}}, p.colours.chosen)
	}
}

// axis draws an axis, dashed.
func (p pencil) axis(a, b point) { p.dashed(a, b, 1.2, 5, p.colours.chosen) }
