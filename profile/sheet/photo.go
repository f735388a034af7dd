package sheet

import (
	"image"
	"math"

	xdraw "golang.org/x/image/draw"
)

const (
	photoHeight = 60.0 // at most, mm
	photoDPI    = 300  // what print shows; a camera's full size would only make the file large
)

// photo returns the photograph, as wide as the page at most.
func (m *maker) photo(width float64) []block {
	if m.options.Photo == nil {
		return nil
	}
	b := m.options.Photo.Bounds()
	if b.Empty() {
		return nil
	}
	scale := math.Min(photoHeight/float64(b.Dy()), width/float64(b.Dx()))
	w, h := scale*float64(b.Dx()), scale*float64(b.Dy())
	return []block{{sheet: tableSheet, height: h + 4, head: true, draw: func(s Surface, at Point) {
		s.Picture(reduced(m.options.Photo, scale), at, w, h)
	}}}
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
