package sheet

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"io"
	"math"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/vector"
)

// previewDPI is the resolution of a PNG that Render writes, dots an inch: figures 2 mm high read well on a screen.
const previewDPI = 150

// maxPixels bounds a preview, pixels: 300 MB of memory.
const maxPixels = 75_000_000

// Preview draws a page at a resolution in dots an inch.
func Preview(p Page, dpi float64) (*image.Gray, error) {
	if !(dpi >= 1 && dpi <= 2400) {
		return nil, fmt.Errorf("sheet: a preview of %v dots an inch is not possible: choose 1 to 2400", dpi)
	}
	k := dpi / 25.4
	w, h := math.Round(p.Width*k), math.Round(p.Height*k)
	if w*h > maxPixels || w > math.MaxInt32 || h > math.MaxInt32 {
		return nil, fmt.Errorf("sheet: %.0f by %.0f pixels are too many for a preview: choose fewer dots an inch, or PDF", w, h)
	}
	img := image.NewGray(image.Rect(0, 0, max(1, int(w)), max(1, int(h))))
	for i := range img.Pix {
		img.Pix[i] = 0xff
	}
	s := &pngSurface{img: img, k: k, glyph: map[glyphKey]sfnt.Segments{}}
	p.Draw(s)
	return img, nil
}

// renderPNG writes the pages under one another.
func renderPNG(d Document, w io.Writer) error {
	img, err := Preview(framed(d.Pages), previewDPI)
	if err != nil {
		return err
	}
	if err := png.Encode(w, img); err != nil {
		return fmt.Errorf("sheet: write the PNG: %w", err)
	}
	return nil
}

// framed stacks pages; if there are several, each has its paper's edge around it.
func framed(pages []Page) Page {
	if len(pages) == 1 {
		return pages[0]
	}
	out := stacked(pages)
	y := 0.0
	for _, p := range pages {
		box(&out, 0.2, y+0.2, p.Width-0.2, y+p.Height-0.2, Pen{Layer: Furnish, Width: 0.3, Grey: 0.7})
		y += p.Height + stackGap
	}
	return out
}

type pngSurface struct {
	img    *image.Gray
	raster vector.Rasterizer
	k      float64 // pixels a mm
	glyph  map[glyphKey]sfnt.Segments
	buf    sfnt.Buffer
}

var _ Surface = (*pngSurface)(nil)

// shape fills closed outlines, given in mm, that the caller lays down; only the pixels within their bounds are touched.
func (s *pngSurface) shape(outlines [][]Point, g float64) {
	lo := Point{math.Inf(1), math.Inf(1)}
	hi := Point{math.Inf(-1), math.Inf(-1)}
	for _, o := range outlines {
		for _, p := range o {
			lo.X, lo.Y = math.Min(lo.X, p.X*s.k), math.Min(lo.Y, p.Y*s.k)
			hi.X, hi.Y = math.Max(hi.X, p.X*s.k), math.Max(hi.Y, p.Y*s.k)
		}
	}
	if !(lo.X <= hi.X) {
		return
	}
	box := image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X))+1, int(math.Ceil(hi.Y))+1)
	if box.Intersect(s.img.Bounds()).Empty() || box.Dx() > 1<<20 || box.Dy() > 1<<20 {
		return
	}
	r := &s.raster
	r.Reset(box.Dx(), box.Dy())
	for _, o := range outlines {
		for i, p := range o {
			x, y := float32(p.X*s.k-float64(box.Min.X)), float32(p.Y*s.k-float64(box.Min.Y))
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	}
	mask := image.NewAlpha(image.Rect(0, 0, box.Dx(), box.Dy()))
	r.DrawOp = draw.Src
	r.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	s.blend(mask, box.Min, shade(g))
}

// blend lays a shade over the picture where the mask covers it. The rasterizer has no quick way onto a grey picture.
func (s *pngSurface) blend(mask *image.Alpha, at image.Point, shade int) {
	in := mask.Rect.Add(at).Intersect(s.img.Rect)
	for y := in.Min.Y; y < in.Max.Y; y++ {
		from := mask.Pix[mask.PixOffset(in.Min.X-at.X, y-at.Y):]
		to := s.img.Pix[s.img.PixOffset(in.Min.X, y):]
		for x := range in.Dx() {
			if a := int(from[x]); a > 0 {
				to[x] = uint8((int(to[x])*(255-a) + shade*a + 127) / 255)
			}
		}
	}
}

func (s *pngSurface) Fill(pts []Point, g float64, _ Layer) { s.shape([][]Point{pts}, g) }

func (s *pngSurface) Arc(b Bow, pen Pen) { s.Stroke(b.flatten(), false, pen) }

// Stroke fills a rectangle along each piece of the line, with a small round at each corner between two.
func (s *pngSurface) Stroke(pts []Point, closed bool, pen Pen) {
	if closed && len(pts) > 0 {
		pts = append(append([]Point(nil), pts...), pts[0])
	}
	for _, run := range dashed(pts, pen.Dash) {
		var outlines [][]Point
		for i := range run[1:] {
			outlines = append(outlines, ribbon(run[i], run[i+1], pen.Width))
			if i+2 < len(run) {
				outlines = append(outlines, Bow{Centre: run[i+1], R: pen.Width / 2, To: -2 * math.Pi}.flatten())
			}
			// What is drawn at one go costs by the area around it: a long piece goes by itself.
			if len(outlines) > 32 || math.Hypot(run[i+1].X-run[i].X, run[i+1].Y-run[i].Y) > longPiece {
				s.shape(outlines, pen.Grey)
				outlines = nil
			}
		}
		s.shape(outlines, pen.Grey)
	}
}

// longPiece is the length from which a piece of a line is drawn by itself, mm.
const longPiece = 5

// ribbon is the rectangle of a width about the line from a to b. Ribbons and rounds all turn the same way, so that
// where they overlap their coverage adds up and is not taken off.
func ribbon(a, b Point, width float64) []Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return nil
	}
	nx, ny := -(b.Y-a.Y)/l*width/2, (b.X-a.X)/l*width/2
	return []Point{{a.X - nx, a.Y - ny}, {b.X - nx, b.Y - ny}, {b.X + nx, b.Y + ny}, {a.X + nx, a.Y + ny}}
}

// dashed cuts a polyline into the runs that a dash pattern leaves.
func dashed(pts []Point, dash []float64) [][]Point {
	if len(pts) < 2 {
		return nil
	}
	if len(dash) == 0 {
		return [][]Point{pts}
	}
	var runs [][]Point
	k, left, on := 0, dash[0], true
	run := []Point{pts[0]}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		for done := 0.0; l > 0 && done < l; {
			step := math.Min(left, l-done)
			done, left = done+step, left-step
			p := Point{a.X + (b.X-a.X)*done/l, a.Y + (b.Y-a.Y)*done/l}
			run = append(run, p)
			if left <= 1e-9 {
				if on {
					runs = append(runs, run)
				}
				k, on, run = k+1, !on, []Point{p}
				left = math.Max(dash[k%len(dash)], 0.05)
			}
		}
	}
	if on && len(run) > 1 {
		runs = append(runs, run)
	}
	return runs
}

func (s *pngSurface) Picture(img image.Image, at Point, width, height float64) {
	to := image.Rect(int(math.Round(at.X*s.k)), int(math.Round(at.Y*s.k)), int(math.Round((at.X+width)*s.k)), int(math.Round((at.Y+height)*s.k)))
	xdraw.ApproxBiLinear.Scale(s.img, to, img, img.Bounds(), xdraw.Src, nil)
}
