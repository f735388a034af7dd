package sheet_test

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// tool returns the path of a program that reads what is written here, or skips.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed: what it would check is not checked", name)
	}
	return path
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	c := exec.Command(name, args...)
	c.Stdout, c.Stderr = &out, &errs
	if err := c.Run(); err != nil {
		t.Fatalf("%s: %v: %s", name, err, errs.String())
	}
	if errs.Len() > 0 {
		t.Errorf("%s complains: %s", name, errs.String())
	}
	return out.String()
}

func written(t *testing.T, d sheet.Document, name string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := sheet.WriteFile(path, d); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestPDFPageSizes: pdfinfo reads the sizes of ISO 216 and of 8.5 x 11 in, in units of 1/72 in (ISO 32000-1, 8.3.2.3).
func TestPDFPageSizes(t *testing.T) {
	info := tool(t, "pdfinfo")
	sizes := regexp.MustCompile(`Page +(\d+) size: +([\d.]+) x ([\d.]+) pts`)
	for paper, want := range map[sheet.Paper][2]float64{sheet.A4: {210, 297}, sheet.Letter: {215.9, 279.4}, sheet.A3: {297, 420}, sheet.Tabloid: {279.4, 431.8}} {
		d := mustMake(t, baluster(), sheet.Options{Show: sheet.All, Paper: paper})
		found := sizes.FindAllStringSubmatch(run(t, info, "-l", "999", written(t, d, "a.pdf")), -1)
		if len(found) != len(d.Pages) {
			t.Errorf("%s: %d pages, want %d", paper, len(found), len(d.Pages))
		}
		for _, f := range found {
			w, _ := strconv.ParseFloat(f[2], 64)
			h, _ := strconv.ParseFloat(f[3], 64)
			w, h = w/72*25.4, h/72*25.4
			if math.Abs(math.Min(w, h)-want[0]) > 0.01 || math.Abs(math.Max(w, h)-want[1]) > 0.01 {
				t.Errorf("%s: page %s is %.3f x %.3f mm", paper, f[1], w, h)
			}
		}
	}
}

// TestPDFTextHasEveryStation: pdftotext reads the distances of all stations out of the sheets as often as they were
// lettered.
func TestPDFTextHasEveryStation(t *testing.T) {
	totext := tool(t, "pdftotext")
	for name, p := range examples() {
		d := mustMake(t, p, sheet.Options{Units: profile.Inch, Show: sheet.All})
		words, want := map[string]int{}, map[string]int{}
		for _, page := range d.Pages {
			for _, text := range textsOf(page) {
				for _, w := range strings.Fields(text.S) {
					want[w]++
				}
			}
		}
		for _, w := range strings.Fields(run(t, totext, written(t, d, "a.pdf"), "-")) {
			words[w]++
		}
		for _, s := range p.Stations() {
			if w := profile.FormatLength(s.X, profile.Inch); words[w] != want[w] || want[w] < 4 {
				t.Errorf("%s: %s stands %d times on the sheets, %d were read", name, w, want[w], words[w])
			}
		}
	}
}

// TestPDFMeasures: rasterised at 600 dots an inch, check bars are 100 mm long and every station stands within 0.1 mm
// of its place, over the joins of strips too.
func TestPDFMeasures(t *testing.T) {
	toppm := tool(t, "pdftoppm")
	for name, paper := range map[string]sheet.Paper{"finial": sheet.A4, "baluster": sheet.Letter, "spindle": sheet.A4} {
		d := mustMake(t, examples()[name], sheet.Options{Paper: paper})
		base := filepath.Join(t.TempDir(), "p")
		run(t, toppm, "-r", "600", "-gray", written(t, d, "a.pdf"), base)
		var pictures []raster
		for i := range d.Pages {
			pictures = append(pictures, readPGM(t, fmt.Sprintf("%s-%d.pgm", base, i+1), 600))
		}
		measuredAlike(t, name, d, pictures, examples()[name])
	}
}

// measuredAlike checks pictures of a stick's pages: its check bars, and its stations from strip to strip.
func measuredAlike(t *testing.T, name string, d sheet.Document, pictures []raster, p profile.Pattern) {
	t.Helper()
	worst := 0.0
	for i, page := range d.Pages {
		for _, b := range barEnds(page) {
			got := pictures[i].length(b[0], b[1])
			want := math.Hypot(b[1].X-b[0].X, b[1].Y-b[0].Y)
			worst = math.Max(worst, math.Abs(got-want))
			if math.Abs(got-want) > 0.1 {
				t.Errorf("%s, %s: a check bar of %.1f mm measures %.3f mm", name, page.Name, want, got)
			}
		}
	}
	strips := stripsOf(d)
	for i := range strips {
		strips[i].remeasure(pictures[int(strips[i].page)])
	}
	got := measured(t, strips)
	for _, w := range edgesOf(p) {
		near := math.Inf(1)
		for _, g := range got {
			near = math.Min(near, math.Abs(g-w))
		}
		worst = math.Max(worst, near)
		if !(near <= 0.1) {
			t.Errorf("%s: the station at %.2f mm stands %.3f mm off", name, w, near)
		}
	}
	t.Logf("%s: largest error of check bars and %d stations: %.3f mm", name, len(got), worst)
}

// remeasure replaces what was drawn by what a picture of the page shows.
func (s *strip) remeasure(r raster) {
	for i, x := range s.ticks {
		s.ticks[i] = r.upright(x, s.edge-2, s.edge-1)
	}
	for i, x := range s.joins {
		s.joins[i] = r.broken(x, s.edge+0.5, s.edge+4)
	}
	if !math.IsNaN(s.hook) {
		s.hook = r.rightSide(s.hook, s.edge+1, s.edge+4)
	}
}

// barEnds returns the middles of the end ticks of each check bar.
func barEnds(p sheet.Page) [][2]sheet.Point {
	var out [][2]sheet.Point
	for _, m := range p.Marks {
		if l, ok := m.(sheet.Line); ok && l.Pen.Layer == sheet.Check && math.Hypot(l.Pts[1].X-l.Pts[0].X, l.Pts[1].Y-l.Pts[0].Y) > 40 {
			out = append(out, [2]sheet.Point{l.Pts[0], l.Pts[1]})
		}
	}
	return out
}

// TestSVGMeasures: rasterised by another program, the SVG's check bar is 100 mm long and every station stands within
// 0.1 mm of its place; its size is in mm (SVG 1.1, 4.2 and 7.12).
func TestSVGMeasures(t *testing.T) {
	convert := tool(t, "rsvg-convert")
	for name, p := range examples() {
		d := mustMake(t, p, sheet.Options{})
		d.Pages = []sheet.Page{d.Whole}
		path := written(t, d, "a.svg")
		out := filepath.Join(t.TempDir(), "a.png")
		run(t, convert, "-d", "300", "-p", "300", "-b", "white", "-o", out, path)
		measuredAlike(t, name, d, []raster{readPNG(t, out, 300)}, p)
	}
}

// TestPreviewMeasures: the same of our own preview.
func TestPreviewMeasures(t *testing.T) {
	d := mustMake(t, baluster(), sheet.Options{})
	var pictures []raster
	for _, page := range d.Pages {
		img, err := sheet.Preview(page, 300)
		if err != nil {
			t.Fatal(err)
		}
		pictures = append(pictures, newRaster(img, 300))
	}
	measuredAlike(t, "baluster", d, pictures, baluster())
}
