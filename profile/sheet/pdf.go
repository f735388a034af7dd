package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// maxPDF is the longest side of a PDF page, mm: 14 400 units of 1/72 in (ISO 32000-1, Annex C.2).
const maxPDF = 14400.0 / 72 * 25.4

// renderPDF writes the pages as PDF, the same bytes for the same document.
func renderPDF(d Document, w io.Writer) error {
	f := newPDF(d.Title)
	s := &pdfSurface{f: f}
	for i := range d.Pages {
		p := &d.Pages[i]
		if math.Max(p.Width, p.Height) > maxPDF {
			return fmt.Errorf("sheet: a PDF page of %.0f mm is not allowed (at most %.0f mm): choose pages instead of a roll, or SVG or DXF", math.Max(p.Width, p.Height), maxPDF)
		}
		f.AddPageFormat("P", fpdf.SizeType{Wd: p.Width, Ht: p.Height})
		p.Draw(s)
	}
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return fmt.Errorf("sheet: make the PDF: %w", err)
	}
	out, err := withoutPrintScaling(b.Bytes())
	if err != nil {
		return err
	}
	if _, err := w.Write(out); err != nil {
		return fmt.Errorf("sheet: write the PDF: %w", err)
	}
	return nil
}

func newPDF(title string) *fpdf.Fpdf {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	f.SetCatalogSort(true)
	// The day of the sheet stands on the sheet; a time here would make equal sheets differ.
	epoch := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(epoch)
	f.SetModificationDate(epoch)
	f.SetProducer("spindlestick", true)
	f.SetTitle(title, true)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetLineCapStyle("butt")
	f.SetLineJoinStyle("miter")
	f.AddUTF8FontFromBytes("sheet", "", regular().ttf)
	f.AddUTF8FontFromBytes("sheet", "B", bold().ttf)
	return f
}

type pdfSurface struct {
	f        *fpdf.Fpdf
	pictures int
}

var _ Surface = (*pdfSurface)(nil)

// shade turns a grey of 0 to 1 into the 0 to 255 that the writer takes.
func shade(grey float64) int { return int(math.Round(255 * math.Max(0, math.Min(1, grey)))) }

func (s *pdfSurface) path(pts []Point) {
	s.f.MoveTo(pts[0].X, pts[0].Y)
	for _, p := range pts[1:] {
		s.f.LineTo(p.X, p.Y)
	}
}

func (s *pdfSurface) Stroke(pts []Point, closed bool, pen Pen) {
	if len(pts) < 2 {
		return
	}
	g := shade(pen.Grey)
	s.f.SetDrawColor(g, g, g)
	s.f.SetLineWidth(pen.Width)
	s.f.SetDashPattern(pen.Dash, 0)
	s.path(pts)
	if closed {
		s.f.ClosePath()
	}
	s.f.DrawPath("D")
}

func (s *pdfSurface) Arc(b Bow, pen Pen) { s.Stroke(b.flatten(), false, pen) }

func (s *pdfSurface) Fill(pts []Point, grey float64, _ Layer) {
	if len(pts) < 3 {
		return
	}
	g := shade(grey)
	s.f.SetFillColor(g, g, g)
	s.path(pts)
	s.f.ClosePath()
	s.f.DrawPath("F")
}

func (s *pdfSurface) Write(t Text) {
	style := ""
	if t.Bold {
		style = "B"
	}
	s.f.SetFont("sheet", style, 1)
	s.f.SetFontUnitSize(t.size())
	g := shade(t.Grey)
	s.f.SetTextColor(g, g, g)
	o := t.origin()
	if t.Turn == 0 {
		s.f.Text(o.X, o.Y, t.S)
		return
	}
	s.f.TransformBegin()
	s.f.TransformRotate(t.Turn*180/math.Pi, o.X, o.Y)
	s.f.Text(o.X, o.Y, t.S)
	s.f.TransformEnd()
}

func (s *pdfSurface) Picture(img image.Image, at Point, width, height float64) {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		s.f.SetError(err)
		return
	}
	o := fpdf.ImageOptions{ImageType: "PNG"}
	s.pictures++
	name := strconv.Itoa(s.pictures)
	s.f.RegisterImageOptionsReader(name, o, &b)
	s.f.ImageOptions(name, at.X, at.Y, width, height, false, o, 0, "")
}
