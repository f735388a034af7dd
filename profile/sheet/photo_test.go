package sheet_test

import (
	"image"
	"image/color"
	"math"
	"path/filepath"
	"testing"

	"spindlestick/profile/sheet"
)

func greyPicture(w, h int) image.Image {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			img.SetGray(x, y, color.Gray{Y: uint8(60 + 40*(x*4/w))})
		}
	}
	return img
}

func picturesOf(p sheet.Page) []sheet.Image {
	var out []sheet.Image
	for _, m := range p.Marks {
		if i, ok := m.(sheet.Image); ok {
			out = append(out, i)
		}
	}
	return out
}

// TestRecordPage: the photograph comes with the table on a page of its own, keeps its shape, lies within the page, is no
// larger in the file than 300 dots an inch, and a long one goes on in rows, left to right.
func TestRecordPage(t *testing.T) {
	for _, c := range []struct{ w, h, rows int }{{3000, 2000, 1}, {6000, 900, 2}, {6000, 500, 3}, {300, 300, 1}, {40, 2000, 1}} {
		for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter, sheet.A3} {
			d := mustMake(t, finial(), sheet.Options{Show: sheet.Table, Paper: paper, Photo: greyPicture(c.w, c.h)})
			page := d.Pages[len(d.Pages)-1]
			found := picturesOf(page)
			if page.Name != "Record" || len(found) != c.rows {
				t.Fatalf("%d x %d on %s: %q holds %d rows, want %d", c.w, c.h, paper, page.Name, len(found), c.rows)
			}
			width := 0.0
			for _, i := range found {
				width += i.Width
				if i.At.X < 0 || i.At.Y < 0 || i.At.X+i.Width > page.Width || i.At.Y+i.Height > page.Height {
					t.Errorf("%s: a picture leaves the page: %v + %v x %v", paper, i.At, i.Width, i.Height)
				}
				if dots := float64(i.Img.Bounds().Dx()) / i.Width * 25.4; dots > 301 && c.w > 300 {
					t.Errorf("%s: %.0f dots an inch", paper, dots)
				}
			}
			if c.rows > 1 {
				width -= float64(c.rows-1) * found[0].Width * 0.04 / 1.04 // what a row repeats
			}
			if math.Abs(width/found[0].Height-float64(c.w)/float64(c.h)) > 2e-3*float64(c.w)/float64(c.h) {
				t.Errorf("%d x %d became %.1f x %.1f mm", c.w, c.h, width, found[0].Height)
			}
			for _, f := range pageFaults(page) {
				t.Errorf("%s: %s", paper, f)
			}
		}
	}
	if d := mustMake(t, finial(), sheet.Options{Show: sheet.Stick, Photo: greyPicture(30, 20)}); len(d.Pages) != 1 {
		t.Error("a stick alone has a record page")
	}
}

// TestRecordPrints: another program shows the rows of the photograph in their order.
func TestRecordPrints(t *testing.T) {
	toppm := tool(t, "pdftoppm")
	d := mustMake(t, finial(), sheet.Options{Show: sheet.Table, Photo: greyPicture(6000, 900)})
	base := filepath.Join(t.TempDir(), "p")
	run(t, toppm, "-r", "100", "-gray", written(t, d, "a.pdf"), base)
	r := readPGM(t, base+"-2.pgm", 100)
	for row, i := range picturesOf(d.Pages[1]) {
		for half := range 2 {
			x, y := i.At.X+i.Width*(0.25+0.5*float64(half)), i.At.Y+i.Height/2
			got := int(r.pix[int(y*r.k)*r.w+int(x*r.k)])
			if want := 60 + 40*(2*row+half); got < want-2 || got > want+2 {
				t.Errorf("row %d, half %d is %d bright, want %d", row, half, got, want)
			}
		}
	}
}
