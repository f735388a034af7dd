package sheet

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"strconv"
	"strings"
)

// renderSVG writes the document's one surface as SVG 1.1: width and height in mm, and a user unit is one mm
// (viewBox). Marks are grouped by layer in the order they lie on one another.
func renderSVG(d Document, w io.Writer) error {
	s := &svgSurface{}
	fmt.Fprintf(&s.b, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="%smm" height="%smm" viewBox="0 0 %s %s">
<title>%s</title>
<rect width="100%%" height="100%%" fill="#ffffff"/>
<g font-family="Go, Arial, Helvetica, sans-serif" stroke-linejoin="miter">
`, num(d.Whole.Width), num(d.Whole.Height), num(d.Whole.Width), num(d.Whole.Height), escape(d.Title))
	d.Whole.Draw(s)
	s.layer("")
	s.b.WriteString("</g>\n</svg>\n")
	if s.err != nil {
		return fmt.Errorf("sheet: make the SVG: %w", s.err)
	}
	if _, err := w.Write(s.b.Bytes()); err != nil {
		return fmt.Errorf("sheet: write the SVG: %w", err)
	}
	return nil
}

type svgSurface struct {
	b       bytes.Buffer
	current Layer
	err     error
}

var _ Surface = (*svgSurface)(nil)

// num writes a length to a ten-thousandth of a mm.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}

func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder does not fail
	return b.String()
}

func grey(g float64) string {
	v := shade(g)
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

// layer closes the group of the layer before and opens the next.
func (s *svgSurface) layer(l Layer) {
	if l == s.current {
		return
	}
	if s.current != "" {
		s.b.WriteString("</g>\n")
	}
	if l != "" {
		fmt.Fprintf(&s.b, "<g class=\"%s\">\n", escape(string(l)))
	}
	s.current = l
}

func stroked(pen Pen) string {
	out := fmt.Sprintf(`fill="none" stroke="%s" stroke-width="%s"`, grey(pen.Grey), num(pen.Width))
	if len(pen.Dash) > 0 {
		parts := make([]string, len(pen.Dash))
		for i, d := range pen.Dash {
			parts[i] = num(d)
		}
		out += ` stroke-dasharray="` + strings.Join(parts, " ") + `"`
	}
	return out
}

func pathOf(pts []Point, closed bool) string {
	var b strings.Builder
	for i, p := range pts {
		b.WriteString([]string{"M", "L"}[min(i, 1)])
		b.WriteString(num(p.X) + " " + num(p.Y))
	}
	if closed {
		b.WriteString("Z")
	}
	return b.String()
}

func (s *svgSurface) Stroke(pts []Point, closed bool, pen Pen) {
	s.layer(pen.Layer)
	fmt.Fprintf(&s.b, "<path d=\"%s\" %s/>\n", pathOf(pts, closed), stroked(pen))
}

func (s *svgSurface) Fill(pts []Point, g float64, layer Layer) {
	s.layer(layer)
	fmt.Fprintf(&s.b, "<path d=\"%s\" fill=\"%s\"/>\n", pathOf(pts, true), grey(g))
}

func (s *svgSurface) Arc(b Bow, pen Pen) {
	s.layer(pen.Layer)
	if b.To-b.From >= 2*math.Pi-1e-9 {
		fmt.Fprintf(&s.b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\" %s/>\n", num(b.Centre.X), num(b.Centre.Y), num(b.R), stroked(pen))
		return
	}
	from, to, large := b.At(b.From), b.At(b.To), 0
	if b.To-b.From > math.Pi {
		large = 1
	}
	fmt.Fprintf(&s.b, "<path d=\"M%s %sA%s %s 0 %d 0 %s %s\" %s/>\n",
		num(from.X), num(from.Y), num(b.R), num(b.R), large, num(to.X), num(to.Y), stroked(pen))
}

// Write sets the text with the length it was laid out with, so that another font cannot make it run over.
func (s *svgSurface) Write(t Text) {
	s.layer(t.Layer)
	o := t.origin()
	turn, weight := "", ""
	if t.Turn != 0 {
		turn = fmt.Sprintf(` transform="rotate(%s %s %s)"`, num(-t.Turn*180/math.Pi), num(o.X), num(o.Y))
	}
	if t.Bold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(&s.b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\" fill=\"%s\"%s%s>%s</text>\n",
		num(o.X), num(o.Y), num(t.size()), num(t.Width()), grey(t.Grey), weight, turn, escape(t.S))
}

func (s *svgSurface) Picture(img image.Image, at Point, width, height float64) {
	s.layer("picture")
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		s.err = err
		return
	}
	fmt.Fprintf(&s.b, "<image x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" xlink:href=\"data:image/png;base64,%s\"/>\n",
		num(at.X), num(at.Y), num(width), num(height), base64.StdEncoding.EncodeToString(b.Bytes()))
}
