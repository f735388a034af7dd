package app

import (
	"image"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// picture shows the whole photograph as it was taken, with what was found in it, and takes marks from the user.
type picture struct {
	widget.BaseWidget

	say    func(string)
	raster *canvas.Raster
	faces  *faces
	drawn  *image.RGBA // the last frame; the toolkit has copied it when it asks for the next
	photo  *pyramid
	found  view.Sighting
	hints  view.Hints
	edge   view.Outline // as found and put right by hand

	zoom    float64 // screen units a photo px
	centre  r2.Vec  // photo px in the middle of the view
	fitted  bool
	marks   []r2.Vec
	wanted  int // marks still asked for; 0 = none
	onMarks func(p, q r2.Vec)
	panned  bool
	ruling  bool       // a drag sets both marks
	ruled   *[2]r2.Vec // that drag; nil = none
	strokes *stroker   // nil = drags pan
	moving  *panCursor
}

var (
	_ fyne.Draggable     = (*picture)(nil)
	_ fyne.Scrollable    = (*picture)(nil)
	_ desktop.Mouseable  = (*picture)(nil)
	_ desktop.Cursorable = (*picture)(nil)
)

func newPicture(say func(string)) (*picture, error) {
	f, err := newFaces()
	if err != nil {
		return nil, err
	}
	p := &picture{say: say, faces: f, fitted: true, zoom: 1, moving: newPanCursor()}
	p.raster = canvas.NewRaster(p.paint)
	p.ExtendBaseWidget(p)
	return p, nil
}

// CreateRenderer is for Fyne.
func (p *picture) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.raster) }

// MinSize is for Fyne.
func (p *picture) MinSize() fyne.Size { return fyne.NewSize(420, 320) }

// Resize is for Fyne.
func (p *picture) Resize(s fyne.Size) {
	p.BaseWidget.Resize(s)
	if p.fitted {
		p.fit()
	}
}

// show puts a photograph up.
func (p *picture) show(photo *pyramid) {
	p.photo = photo
	p.marks, p.wanted = nil, 0
	p.fit()
}

// take shows what was found in the photograph and what the user said of it.
func (p *picture) take(found view.Sighting, hints view.Hints) {
	p.found, p.hints, p.edge = found, hints, found.Outline.Corrected(hints.Corrections)
	p.raster.Refresh()
}

func (p *picture) fit() {
	p.fitted = true
	if p.photo == nil || p.Size().Width == 0 {
		p.raster.Refresh()
		return
	}
	w, h := p.photo.size()
	p.zoom = math.Min(float64(p.Size().Width)/float64(w), float64(p.Size().Height)/float64(h))
	p.centre = r2.Vec{X: float64(w-1) / 2, Y: float64(h-1) / 2}
	p.raster.Refresh()
}

// ask takes two marks from the user and hands them on.
func (p *picture) ask(prompt string, done func(a, b r2.Vec)) {
	p.marks, p.wanted, p.onMarks, p.ruling, p.ruled = nil, 2, done, false, nil
	p.say(prompt)
	p.raster.Refresh()
}

// at returns the photo px under a screen position.
func (p *picture) at(pos fyne.Position) r2.Vec {
	s := p.Size()
	return r2.Vec{X: p.centre.X + (float64(pos.X)-float64(s.Width)/2)/p.zoom, Y: p.centre.Y + (float64(pos.Y)-float64(s.Height)/2)/p.zoom}
}

// place returns the screen position of a photo px.
func (p *picture) place(v r2.Vec) point {
	s := p.Size()
	return point{(v.X-p.centre.X)*p.zoom + float64(s.Width)/2, (v.Y-p.centre.Y)*p.zoom + float64(s.Height)/2}
}

// MouseDown is for Fyne.
func (p *picture) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil {
		c.Focus(p)
	}
	p.panned = false
	if p.strokes != nil && p.photo != nil && e.Button == desktop.MouseButtonPrimary {
		p.strokes.begin(p.at(e.Position))
	}
	if p.ruling && p.wanted == 2 && e.Button == desktop.MouseButtonPrimary {
		p.ruled = &[2]r2.Vec{p.at(e.Position), p.at(e.Position)}
	}
}

// MouseUp is for Fyne: a press that did not move sets a mark, a drag along a rule both.
func (p *picture) MouseUp(e *desktop.MouseEvent) {
	if p.strokes != nil && p.strokes.down {
		p.strokes.end(p.zoom)
		p.raster.Refresh()
		return
	}
	if line := p.ruled; line != nil {
		p.ruled = nil
		if p.panned {
			p.marks, p.wanted = line[:], 0
			p.raster.Refresh()
			p.onMarks(line[0], line[1])
			return
		}
	}
	if p.panned || p.wanted == 0 || p.photo == nil || e.Button != desktop.MouseButtonPrimary {
		return
	}
	p.marks = append(p.marks, p.at(e.Position))
	p.wanted--
	p.raster.Refresh()
	if p.wanted == 0 {
		p.onMarks(p.marks[0], p.marks[1])
	}
}

// Dragged is for Fyne: pans, draws a stroke, or a line along a rule.
func (p *picture) Dragged(e *fyne.DragEvent) {
	if p.strokes != nil && p.strokes.down {
		p.strokes.extend(p.at(e.Position), p.zoom)
		p.raster.Refresh()
		return
	}
	p.panned = true
	if p.ruled != nil {
		p.ruled[1] = p.at(e.Position)
		p.raster.Refresh()
		return
	}
	p.fitted = false
	p.centre = r2.Sub(p.centre, r2.Scale(1/p.zoom, r2.Vec{X: float64(e.Dragged.DX), Y: float64(e.Dragged.DY)}))
	p.raster.Refresh()
}

// DragEnd is for Fyne.
func (p *picture) DragEnd() {}

// Scrolled is for Fyne: zooms about the pointer; with Shift, or sideways, it moves across.
func (p *picture) Scrolled(e *fyne.ScrollEvent) {
	if p.photo == nil {
		return
	}
	along, n := wheel(e)
	p.centre.X -= along / p.zoom
	p.zoomAbout(e.Position, math.Pow(zoomNotch, n))
}

// zoomAbout magnifies with the pixel under a screen position staying there.
func (p *picture) zoomAbout(pos fyne.Position, factor float64) {
	before := p.at(pos)
	p.zoom = math.Max(0.01, math.Min(40, p.zoom*factor))
	p.centre = r2.Add(p.centre, r2.Sub(before, p.at(pos)))
	p.fitted = false
	p.raster.Refresh()
}

// magnify zooms about the middle.
func (p *picture) magnify(factor float64) {
	if p.photo != nil {
		p.zoomAbout(fyne.NewPos(p.Size().Width/2, p.Size().Height/2), factor)
	}
}

// full shows one pixel of the photograph a unit of the screen.
func (p *picture) full() { p.magnify(1 / p.zoom) }

// Cursor is for Fyne.
func (p *picture) Cursor() desktop.Cursor {
	if p.wanted > 0 || p.strokes != nil {
		return desktop.CrosshairCursor
	}
	if !p.fitted {
		return p.moving
	}
	return desktop.DefaultCursor
}

func (p *picture) paint(w, h int) image.Image {
	scale := 1.0
	if p.Size().Width > 0 {
		scale = float64(w) / float64(p.Size().Width)
	}
	p.drawn = canvasOf(w, h, p.drawn)
	img := p.drawn
	b := brush{img: img, scale: scale, faces: p.faces}
	c := paletteFor(fyne.CurrentApp().Settings().ThemeVariant())
	b.fill(0, 0, float64(w)/scale, float64(h)/scale, c.ground)
	if p.photo == nil {
		p.paintEmpty(b, c)
		return img
	}
	p.paintPhoto(img, scale)
	p.paintFound(b, c)
	return img
}

// paintEmpty shows what the bench waits for.
func (p *picture) paintEmpty(b brush, c palette) {
	const wide, size = 420.0, 18.0 // units
	width, height := float64(b.img.Rect.Dx())/b.scale, float64(b.img.Rect.Dy())/b.scale
	aim := stepSketches()[stepPhoto]
	w := math.Min(wide, 0.8*width)
	h := w * aim.height / aim.width
	picture := aim.draw(b.px(w), b.px(h))
	at := image.Pt(b.px((width-w)/2), b.px((height-h)/2-size))
	draw.Draw(b.img, picture.Bounds().Add(at), picture, image.Point{}, draw.Over)
	text := lang.L("Open a photograph, or drop one here")
	b.text(text, (width-b.width(text, size, false))/2, (height+h)/2+size, size, false, c.ink)
}

func (p *picture) paintPhoto(img *image.RGBA, scale float64) {
	s := p.photo.at(1 / (p.zoom * scale))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			at := p.at(fyne.NewPos(float32((float64(x)+0.5)/scale), float32((float64(y)+0.5)/scale)))
			r, g, bl, ok := s.bilinear(at.X, at.Y)
			if !ok {
				continue
			}
			i := y*img.Stride + 4*x
			img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = r, g, bl, 0xff
		}
	}
}

// paintFound draws the boards' corners, the rule's lines, the edges of the piece and the user's marks.
func (p *picture) paintFound(b brush, c palette) {
	for _, board := range p.found.Boards {
		for _, row := range board.Corners {
			for _, v := range row {
				p.dot(b, v, 1.6, c)
			}
		}
	}
	if p.found.Rule != nil {
		for _, v := range p.found.Rule.P {
			p.dot(b, v, 1.2, c)
		}
	}
	for _, side := range p.edge.Sides {
		p.paintSide(b, c, side)
	}
	p.paintStroke(b, c)
	if a := p.hints.Axis; a != nil && len(p.marks) == 0 {
		p.cross(b, a[0], c)
		p.cross(b, a[1], c)
	}
	for _, m := range p.marks {
		p.cross(b, m, c)
	}
	if p.ruled != nil && p.panned {
		line := []point{p.place(p.ruled[0]), p.place(p.ruled[1])}
		b.stroke(line, 3, c.under)
		b.stroke(line, 1.2, c.mark)
		p.cross(b, p.ruled[0], c)
		p.cross(b, p.ruled[1], c)
	}
}

func (p *picture) dot(b brush, v r2.Vec, r float64, c palette) {
	at := p.place(v)
	diamond(b, at, r+1, c.under)
	diamond(b, at, r, c.mark)
}

func (p *picture) cross(b brush, v r2.Vec, c palette) {
	at := p.place(v)
	const arm = 11
	for _, pass := range []struct {
		width float64
		c     colour
	}{{3.4, c.under}, {1.4, c.mark}} {
		b.stroke([]point{{at.x - arm, at.y}, {at.x + arm, at.y}}, pass.width, pass.c)
		b.stroke([]point{{at.x, at.y - arm}, {at.x, at.y + arm}}, pass.width, pass.c)
	}
}
