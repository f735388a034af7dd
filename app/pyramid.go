package app

import (
	"image"

	"github.com/disintegration/imaging"
)

// pyramid holds a picture at full size and at halves of it, so that any zoom samples about one pixel a pixel.
type pyramid struct {
	levels []*image.NRGBA
}

// smallestLevel is the size under which no further half is kept, px.
const smallestLevel = 256

func newPyramid(src image.Image) *pyramid {
	level := imaging.Clone(src)
	p := &pyramid{levels: []*image.NRGBA{level}}
	for level.Rect.Dx() > smallestLevel && level.Rect.Dy() > smallestLevel {
		level = imaging.Resize(level, level.Rect.Dx()/2, level.Rect.Dy()/2, imaging.Box)
		p.levels = append(p.levels, level)
	}
	return p
}

// size returns the size of the picture, px.
// whole is the photograph at its full size.
func (p *pyramid) whole() image.Image { return p.levels[0] }

func (p *pyramid) size() (w, h int) { return p.levels[0].Rect.Dx(), p.levels[0].Rect.Dy() }

// level returns the level in which one step of the given size (in full-size px) is between one and two of its pixels,
// and how many full-size px its pixel covers each way.
func (p *pyramid) level(step float64) (img *image.NRGBA, sx, sy float64) {
	i := 0
	for s := step; s >= 2 && i < len(p.levels)-1; s /= 2 {
		i++
	}
	img = p.levels[i]
	w, h := p.size()
	return img, float64(w) / float64(img.Rect.Dx()), float64(h) / float64(img.Rect.Dy())
}

// sample is one level with its scale, ready for reading.
type sample struct {
	img    *image.NRGBA
	kx, ky float64 // level px a full-size px
}

func (p *pyramid) at(step float64) sample {
	img, sx, sy := p.level(step)
	return sample{img, 1 / sx, 1 / sy}
}

// bilinear returns the colour at full-size position (x, y); pixel (0, 0) is the centre of the first pixel. ok is false
// outside the picture.
func (s sample) bilinear(x, y float64) (r, g, b uint8, ok bool) {
	fx, fy := (x+0.5)*s.kx-0.5, (y+0.5)*s.ky-0.5
	w, h := s.img.Rect.Dx(), s.img.Rect.Dy()
	if fx < -0.5 || fy < -0.5 || fx > float64(w)-0.5 || fy > float64(h)-0.5 {
		return 0, 0, 0, false
	}
	x0, y0 := int(max(fx, 0)), int(max(fy, 0))
	x1, y1 := min(x0+1, w-1), min(y0+1, h-1)
	ax, ay := int(256*(max(fx, 0)-float64(x0))), int(256*(max(fy, 0)-float64(y0)))
	p := s.img.Pix
	i00, i10 := y0*s.img.Stride+4*x0, y0*s.img.Stride+4*x1
	i01, i11 := y1*s.img.Stride+4*x0, y1*s.img.Stride+4*x1
	mix := func(c int) uint8 {
		top := int(p[i00+c])*(256-ax) + int(p[i10+c])*ax
		low := int(p[i01+c])*(256-ax) + int(p[i11+c])*ax
		return uint8((top*(256-ay) + low*ay) >> 16)
	}
	return mix(0), mix(1), mix(2), true
}
