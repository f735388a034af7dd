package sheet_test

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"spindlestick/profile/sheet"
)

// corner is the upper left corner of a page's board, and cols how many columns it has, as the squares drawn say.
func corner(t *testing.T, p sheet.Page) (at sheet.Point, cols int) {
	t.Helper()
	at = sheet.Point{X: math.Inf(1), Y: math.Inf(1)}
	right := 0.0
	for _, a := range squaresOf(p) {
		at.X, at.Y = math.Min(at.X, a.Pts[0].X), math.Min(at.Y, a.Pts[0].Y)
		right = math.Max(right, a.Pts[1].X)
	}
	return at, int(math.Round((right - at.X) / 10))
}

func squaresOf(p sheet.Page) []sheet.Area {
	var out []sheet.Area
	for _, m := range p.Marks {
		if a, ok := m.(sheet.Area); ok && a.Grey == 0 {
			out = append(out, a)
		}
	}
	return out
}

// TestBoards: 5 rows and 25, 24, 23 and 22 columns of 10 mm squares, chequered, the one at the top left black.
func TestBoards(t *testing.T) {
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
		d, err := sheet.Boards(paper)
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Pages) != 4 {
			t.Fatalf("%d boards", len(d.Pages))
		}
		for i, p := range d.Pages {
			at, cols := corner(t, p)
			if cols != 25-i {
				t.Errorf("%s, %s: %d columns", paper, p.Name, cols)
			}
			black := map[[2]int]bool{}
			for _, a := range squaresOf(p) {
				if math.Abs(a.Pts[2].X-a.Pts[0].X-10) > same || math.Abs(a.Pts[2].Y-a.Pts[0].Y-10) > same {
					t.Errorf("%s, %s: a square measures %v", paper, p.Name, a.Pts)
				}
				black[[2]int{int(math.Round((a.Pts[0].Y - at.Y) / 10)), int(math.Round((a.Pts[0].X - at.X) / 10))}] = true
			}
			for r := range 5 {
				for c := range cols {
					if black[[2]int{r, c}] != ((r+c)%2 == 0) {
						t.Errorf("%s, %s: the square at row %d, column %d has the wrong colour", paper, p.Name, r, c)
					}
				}
			}
		}
	}
}

// TestBoardMargins: 12 mm of white lie around the squares, within the paper; only the board's name stands in it, in
// its outer 5 mm.
func TestBoardMargins(t *testing.T) {
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
		d, err := sheet.Boards(paper)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range d.Pages {
			at, cols := corner(t, p)
			outer := bounds{at.X - 12, at.Y - 12, at.X + float64(cols)*10 + 12, at.Y + 62}
			if outer.x0 < 0 || outer.y0 < 0 || outer.x1 > p.Width || outer.y1 > p.Height {
				t.Errorf("%s, %s: the board leaves the page: %v", paper, p.Name, outer)
			}
			inner := bounds{outer.x0 + 5, outer.y0 + 5, outer.x1 - 5, outer.y1 - 5}
			for _, m := range p.Marks {
				if b, ok := inkOf(m); ok && b.overlap(inner) {
					t.Errorf("%s, %s: %v stands in the margin", paper, p.Name, m)
				}
			}
			for _, f := range pageFaults(p) {
				t.Errorf("%s: %s", paper, f)
			}
			level, upright := checkBars(p)
			if len(level) == 0 || level[0] != 100 || len(upright) == 0 || math.Abs(upright[0]-100) > same {
				t.Errorf("%s, %s: check bars %v, %v", paper, p.Name, level, upright)
			}
		}
	}
}

// inkOf returns the bounds of a mark that is not one of the squares.
func inkOf(m sheet.Mark) (bounds, bool) {
	switch m := m.(type) {
	case sheet.Text:
		return boxOf(m), true
	case sheet.Line:
		b := bounds{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, p := range m.Pts {
			b = bounds{math.Min(b.x0, p.X), math.Min(b.y0, p.Y), math.Max(b.x1, p.X), math.Max(b.y1, p.Y)}
		}
		return b, true
	}
	return bounds{}, false
}

func TestBoardsWantSmallPaper(t *testing.T) {
	for _, paper := range []sheet.Paper{sheet.A3, sheet.Roll, "b5"} {
		if _, err := sheet.Boards(paper); err == nil {
			t.Errorf("boards were laid out for %s", paper)
		}
	}
}

// TestPrintedBoardsMeasure: rasterised at 600 dots an inch, every edge between squares along the middle of the first
// row and the first column stands within 0.05 mm of its place.
func TestPrintedBoardsMeasure(t *testing.T) {
	toppm := tool(t, "pdftoppm")
	d, err := sheet.Boards(sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	base := filepath.Join(t.TempDir(), "b")
	run(t, toppm, "-r", "600", "-gray", written(t, d, "b.pdf"), base)
	worst := 0.0
	for i, p := range d.Pages {
		r := readPGM(t, fmt.Sprintf("%s-%d.pgm", base, i+1), 600)
		at, cols := corner(t, p)
		across := r.edges(at.X-3, at.X+float64(cols)*10+3, func(n int) float64 { return r.dark(n, int((at.Y+5)*r.k)) })
		down := r.edges(at.Y-3, at.Y+53, func(n int) float64 { return r.dark(int((at.X+5)*r.k), n) })
		// A row of an even number of squares ends in a white one, whose end shows no edge.
		if len(across) != cols+cols%2 || len(down) != 6 {
			t.Fatalf("%s: %d edges across, %d down", p.Name, len(across), len(down))
		}
		for k, x := range across {
			worst = math.Max(worst, math.Abs(x-at.X-float64(k)*10))
		}
		for k, y := range down {
			worst = math.Max(worst, math.Abs(y-at.Y-float64(k)*10))
		}
	}
	t.Logf("largest error of an edge: %.4f mm", worst)
	if worst > 0.05 {
		t.Errorf("an edge stands %.3f mm off", worst)
	}
}

// edges returns where blackness passes one half between two places, mm.
func (r raster) edges(from, to float64, dark func(int) float64) []float64 {
	var out []float64
	for n := int(from * r.k); n < int(to*r.k); n++ {
		a, b := dark(n), dark(n+1)
		if (a < 0.5) != (b < 0.5) {
			out = append(out, (float64(n)+0.5+(0.5-a)/(b-a))/r.k)
		}
	}
	return out
}
