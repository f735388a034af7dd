package sheet

import (
	"image"
	"image/draw"
	"math"

	xdraw "golang.org/x/image/draw"
)

const (
	recordSheet = "Record"
	photoDPI    = 300  // what print shows; a camera's full size would only make the file large
	photoGap    = 4.0  // between rows of the photograph, mm
	photoRows   = 4    // at most: more would tear a piece apart that is looked at as a whole
	photoLap    = 0.04 // of a row, shown in the next one too, so that nothing is cut where rows meet
)

// recordWords stand under the photograph.
const recordWords = "The photograph along the axis, hook end to the left, with the pattern over it. Not to scale: measure on the stick and the drawing."

func (m *maker) recorded() bool {
	return m.wants(Table) && m.options.Photo != nil && !m.options.Photo.Bounds().Empty()
}

// recordBlock is the photograph on the surface that holds everything.
func (m *maker) recordBlock() []block {
	const width, height = 250, 150 // mm
	if !m.recorded() {
		return nil
	}
	return []block{{sheet: recordSheet, height: height + 2*wholeGap, draw: func(s Surface, at Point) {
		drawRecord(s, m.options.Photo, Point{at.X, at.Y + wholeGap}, width, height)
	}}}
}

// record plans the page with the photograph.
func (m *maker) record() error {
	if !m.recorded() {
		return nil
	}
	long, short, err := m.options.Paper.sides()
	if err != nil {
		return err
	}
	l := m.layout(long, short)
	at, width, height := l.content()
	m.plans = append(m.plans, plan{layout: l, sheet: recordSheet, draw: func(s Surface) {
		drawRecord(s, m.options.Photo, at, width, height)
	}})
	return nil
}

// drawRecord draws the photograph as large as the room allows, a long one in several rows, and what it shows.
func drawRecord(s Surface, img image.Image, at Point, width, height float64) {
	words := Wrap(recordWords, tableCap, width)
	rows, scale := photoDivision(img.Bounds(), width, height-tableLine*float64(len(words))-2)
	y := at.Y
	for _, r := range photoCuts(img.Bounds(), rows) {
		w, h := scale*float64(r.Dx()), scale*float64(r.Dy())
		s.Picture(reduced(cropped(img, r), scale), Point{at.X, y}, w, h)
		y += h + photoGap
	}
	for i, line := range words {
		s.Write(Text{At: Point{at.X, y + 1.5 + tableLine*float64(i)}, S: line, Cap: tableCap, Layer: Lettered})
	}
}

// photoDivision returns in how many rows a picture comes out largest, and how wide one of its pixels is then, mm.
func photoDivision(b image.Rectangle, width, height float64) (rows int, scale float64) {
	for n := 1; n <= photoRows; n++ {
		across := width / float64(photoCuts(b, n)[0].Dx())
		down := (height/float64(n) - photoGap) / float64(b.Dy())
		if s := math.Min(across, down); s > scale*1.05 { // a row more must be worth it
			rows, scale = n, s
		}
	}
	return rows, scale
}

// photoCuts divides a picture into rows from left to right, each with the end of the one before.
func photoCuts(b image.Rectangle, rows int) []image.Rectangle {
	step := float64(b.Dx()) / (float64(rows) + photoLap)
	wide := int(math.Round(step * (1 + photoLap)))
	if rows == 1 {
		return []image.Rectangle{b}
	}
	var out []image.Rectangle
	for i := range rows {
		x := min(b.Min.X+int(math.Round(float64(i)*step)), b.Max.X-wide)
		out = append(out, image.Rect(x, b.Min.Y, x+wide, b.Max.Y))
	}
	return out
}

func cropped(img image.Image, r image.Rectangle) image.Image {
	if r == img.Bounds() {
		return img
	}
	out := image.NewRGBA(image.Rect(0, 0, r.Dx(), r.Dy()))
	draw.Draw(out, out.Rect, img, r.Min, draw.Src)
	return out
}

// reduced returns a picture with no more than photoDPI pixels an inch when a pixel is printed scale mm wide.
func reduced(img image.Image, scale float64) image.Image {
	k := 25.4 / photoDPI / scale // pixels of the picture to one that is printed
	if k <= 1 {
		return img
	}
	b := img.Bounds()
	size := func(n int) int { return max(1, int(math.Round(float64(n)/k))) }
	out := image.NewRGBA(image.Rect(0, 0, size(b.Dx()), size(b.Dy())))
	xdraw.CatmullRom.Scale(out, out.Bounds(), img, b, xdraw.Src, nil)
	return out
}
