package sheet

import (
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

type glyphKey struct {
	bold  bool
	index sfnt.GlyphIndex
}

// Write fills the outlines of the text's letters.
func (s *pngSurface) Write(t Text) {
	f := t.face()
	o := t.origin()
	sin, cos := math.Sincos(t.Turn)
	scale := t.size() / float64(f.font.UnitsPerEm())
	em := fixed.Int26_6(f.font.UnitsPerEm())
	pen := 0.0
	var outlines [][]Point
	for _, r := range t.S {
		g, err := f.font.GlyphIndex(&s.buf, r)
		if err != nil {
			continue
		}
		place := func(p fixed.Point26_6) Point {
			x, y := (pen+float64(p.X))*scale, float64(p.Y)*scale // y grows downwards
			return Point{o.X + x*cos + y*sin, o.Y - x*sin + y*cos}
		}
		outlines = append(outlines, contours(s.load(f, g, t.Bold, em), place)...)
		if w, err := f.font.GlyphAdvance(&s.buf, g, em, font.HintingNone); err == nil {
			pen += float64(w)
		}
	}
	s.shape(outlines, t.Grey)
}

func (s *pngSurface) load(f face, g sfnt.GlyphIndex, bold bool, em fixed.Int26_6) sfnt.Segments {
	key := glyphKey{bold, g}
	if have, ok := s.glyph[key]; ok {
		return have
	}
	segs, err := f.font.LoadGlyph(&s.buf, g, em, nil)
	if err != nil {
		segs = nil
	}
	s.glyph[key] = append(sfnt.Segments(nil), segs...)
	return s.glyph[key]
}

// contours turns a letter's curves into polygons.
func contours(segs sfnt.Segments, place func(fixed.Point26_6) Point) [][]Point {
	const steps = 6 // pieces a curve; a letter's curves are short
	var out [][]Point
	var at Point
	add := func(p Point) {
		out[len(out)-1] = append(out[len(out)-1], p)
		at = p
	}
	for _, g := range segs {
		switch g.Op {
		case sfnt.SegmentOpMoveTo:
			out = append(out, nil)
			add(place(g.Args[0]))
		case sfnt.SegmentOpLineTo:
			add(place(g.Args[0]))
		case sfnt.SegmentOpQuadTo:
			a, b, c := at, place(g.Args[0]), place(g.Args[1])
			for i := 1; i <= steps; i++ {
				u := float64(i) / steps
				v := 1 - u
				add(Point{v*v*a.X + 2*u*v*b.X + u*u*c.X, v*v*a.Y + 2*u*v*b.Y + u*u*c.Y})
			}
		}
	}
	return out
}
