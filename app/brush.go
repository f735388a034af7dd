package app

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// point is a position in screen units.
type point struct{ x, y float64 }

// brush draws into one frame of the tracks, in screen units.
type brush struct {
	img   *image.RGBA
	scale float64 // device px a unit
	faces *faces
}

// fill paints a rectangle.
func (b brush) fill(x, y, w, h float64, c color.Color) {
	r := image.Rect(b.px(x), b.px(y), b.px(x+w), b.px(y+h))
	draw.Draw(b.img, r.Intersect(b.img.Rect), image.NewUniform(c), image.Point{}, draw.Over)
}

func (b brush) px(v float64) int { return int(math.Round(v * b.scale)) }

// polygon fills a closed shape.
func (b brush) polygon(pts []point, c color.Color) {
	if len(pts) < 3 {
		return
	}
	b.raster(c, func(r *vector.Rasterizer, off point) {
		for i, p := range pts {
			x, y := float32(p.x*b.scale-off.x), float32(p.y*b.scale-off.y)
			if i == 0 {
				r.MoveTo(x, y)
				continue
			}
			r.LineTo(x, y)
		}
		r.ClosePath()
	}, pts, 1)
}

// stroke draws a polyline of the given width.
func (b brush) stroke(pts []point, width float64, c color.Color) {
	if len(pts) < 2 {
		return
	}
	half := width * b.scale / 2
	b.raster(c, func(r *vector.Rasterizer, off point) {
		for i := 1; i < len(pts); i++ {
			quad(r, pts[i-1], pts[i], b.scale, half, off)
		}
	}, pts, half+2)
}

// quad adds one segment of a stroke, a little longer than the segment so that joints close. All quads turn the same
// way, so overlaps do not cancel.
func quad(r *vector.Rasterizer, p, q point, scale, half float64, off point) {
	ax, ay := p.x*scale-off.x, p.y*scale-off.y
	bx, by := q.x*scale-off.x, q.y*scale-off.y
	d := math.Hypot(bx-ax, by-ay)
	if d < 1e-6 {
		return
	}
	tx, ty := (bx-ax)/d*half, (by-ay)/d*half
	cap := 0.5
	ax, ay, bx, by = ax-cap*tx, ay-cap*ty, bx+cap*tx, by+cap*ty
	r.MoveTo(float32(ax-ty), float32(ay+tx))
	r.LineTo(float32(bx-ty), float32(by+tx))
	r.LineTo(float32(bx+ty), float32(by-tx))
	r.LineTo(float32(ax+ty), float32(ay-tx))
	r.ClosePath()
}

// dashed draws a line in strokes of the given length with gaps as long.
func (b brush) dashed(p, q point, width, dash float64, c color.Color) {
	d := math.Hypot(q.x-p.x, q.y-p.y)
	at := func(s float64) point { return point{p.x + (q.x-p.x)*s/d, p.y + (q.y-p.y)*s/d} }
	for s := 0.0; s < d; s += 2 * dash {
		b.stroke([]point{at(s), at(math.Min(d, s+dash))}, width, c)
	}
}

// raster runs path in a rasteriser that covers just the shape's part of the frame.
func (b brush) raster(c color.Color, path func(*vector.Rasterizer, point), pts []point, margin float64) {
	box := b.box(pts, margin).Intersect(b.img.Rect)
	if box.Empty() {
		return
	}
	r := b.filler(box.Dx(), box.Dy())
	path(r, point{float64(box.Min.X), float64(box.Min.Y)})
	r.Draw(b.img, box, image.NewUniform(c), image.Point{})
}

// filler is an empty rasteriser. The one beside the fonts is taken again and again: a frame draws hundreds of shapes.
func (b brush) filler(w, h int) *vector.Rasterizer {
	if b.faces == nil {
		return vector.NewRasterizer(w, h)
	}
	b.faces.filler.Reset(w, h)
	return &b.faces.filler
}

func (b brush) box(pts []point, margin float64) image.Rectangle {
	lo, hi := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		lo.x, lo.y = math.Min(lo.x, p.x*b.scale), math.Min(lo.y, p.y*b.scale)
		hi.x, hi.y = math.Max(hi.x, p.x*b.scale), math.Max(hi.y, p.y*b.scale)
	}
	// Positions far outside the frame would overflow integers.
	cut := func(v float64) int { return int(math.Max(-1e6, math.Min(1e6, v))) }
	return image.Rect(cut(lo.x-margin), cut(lo.y-margin), cut(hi.x+margin)+1, cut(hi.y+margin)+1)
}

// text writes s with its baseline's left end at (x, y).
func (b brush) text(s string, x, y, size float64, bold bool, c color.Color) {
	face := b.faces.get(size*b.scale, bold)
	if face == nil {
		return
	}
	d := font.Drawer{Dst: b.img, Src: image.NewUniform(c), Face: face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(x * b.scale * 64), Y: fixed.Int26_6(y * b.scale * 64)}}
	d.DrawString(s)
}

// width returns how wide s is, units.
func (b brush) width(s string, size float64, bold bool) float64 {
	face := b.faces.get(size*b.scale, bold)
	if face == nil {
		return 0
	}
	return float64(font.MeasureString(face, s)) / 64 / b.scale
}
