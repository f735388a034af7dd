package sheet

import (
	"fmt"
)

// The scale boards: 5 rows of 10 mm squares, the top-left one black. Each board has its own number of columns, by
// which a picture tells them apart.
const (
	boardRows   = 5
	boardSquare = 10.0 // mm
	boardMargin = 12.0 // white, to the cut line, mm
	boardLetter = 5.0  // of the margin's outer edge, mm: what the board's name may take
	unprinted   = 6.0  // along the paper's edges, mm: what some printers leave white (common practice, no source)
)

type scaleBoard struct {
	name string
	cols int
}

func scaleBoards() []scaleBoard { return []scaleBoard{{"A", 25}, {"B", 24}, {"C", 23}, {"D", 22}} }

// boardAdvice is what a photographer should know, in the order of the work.
func boardAdvice() []string {
	return []string{
		"1. " + scaleWords + " Then measure the board: its rows of squares are as long as stated on it. If the printer is off, tell the program what a square measures.",
		"2. Cut along the lines; where an end has none, the paper's edge is the end. Leave the white border on, and fix the board flat on stiff card.",
		"3. Lay one or more boards beside the piece, near both of its ends if you have several, all in one plane. They may be turned any way. Best is the height of the piece's axis; on the table works too.",
		"4. Stand back two metres or more and zoom in. Aim at the middle of the piece. A plain ground that contrasts with the wood, even light, no flash.",
		"5. Turn a square part with a corner towards the camera if its shoulder matters.",
	}
}

// Boards lays out the scale boards, one a page, on A4 or Letter paper.
func Boards(paper Paper) (Document, error) {
	if paper == "" {
		paper = A4
	}
	long, short, err := paper.sides()
	if err != nil {
		return Document{}, err
	}
	if paper != A4 && paper != Letter {
		return Document{}, fmt.Errorf("sheet: scale boards are laid out for a4 and letter paper, not for %s", paper)
	}
	d := Document{Title: "Scale boards"}
	all := scaleBoards()
	for i, b := range all {
		p := Page{Name: "Scale board " + b.name, Width: long, Height: short}
		b.page(&p, i+1, len(all))
		d.Pages = append(d.Pages, p)
	}
	d.Whole = stacked(d.Pages)
	return d, nil
}

// size returns the board's width and height with its margin, mm.
func (b scaleBoard) size() (w, h float64) {
	return float64(b.cols)*boardSquare + 2*boardMargin, boardRows*boardSquare + 2*boardMargin
}

func (b scaleBoard) page(p *Page, number, of int) {
	w, h := b.size()
	at := Point{(p.Width - w) / 2, unprinted + 3}
	b.draw(p, at)
	b.cutLines(p, at)
	top := at.Y + h + 12
	left, right := float64(margin), p.Width-margin
	p.Write(Text{At: Point{left, top}, S: fmt.Sprintf("Scale board %s: %d x %d squares of 10 mm", b.name, boardRows, b.cols), Cap: 3, Bold: true, Layer: Lettered})
	p.Write(Text{At: Point{right, top}, S: fmt.Sprintf("page %d of %d", number, of), Cap: 2.4, Anchor: End, Layer: Lettered})
	mmBar(p, Point{right - 4, p.Height - margin - 100}, 100, true)
	mmBar(p, Point{left + 0.2, p.Height - margin - 4}, 100, false)
	inchBar(p, Point{left + 112, p.Height - margin - 4})
	y := top + 8
	for _, a := range boardAdvice() {
		for _, l := range Wrap(a, 2.2, right-left-24) {
			p.Write(Text{At: Point{left, y}, S: l, Cap: 2.2, Layer: Lettered})
			y += 4
		}
		y += 1.6
	}
}

// draw draws the squares and the board's name; at is the corner of its margin.
func (b scaleBoard) draw(s Surface, at Point) {
	for r := range boardRows {
		for c := range b.cols {
			if (r+c)%2 != 0 {
				continue
			}
			x, y := at.X+boardMargin+float64(c)*boardSquare, at.Y+boardMargin+float64(r)*boardSquare
			bar(s, x, y, x+boardSquare, y+boardSquare, 0, Outline)
		}
	}
	name := fmt.Sprintf("%s   %d columns = %.0f mm, 5 rows = 50 mm", b.name, b.cols, float64(b.cols)*boardSquare)
	s.Write(Text{At: Point{at.X + boardMargin, at.Y + boardLetter - 1.2}, S: name, Cap: 1.8, Grey: 0.4, Layer: Lettered})
}

// cutLines draws the line outside the margin. Where it would fall into what a printer leaves white, the paper's edge
// takes its place, and the lines across end where printing does.
func (b scaleBoard) cutLines(p *Page, at Point) {
	w, h := b.size()
	thin := Pen{Layer: Furnish, Width: 0.13, Grey: 0.4}
	x0, x1 := max(at.X, unprinted), min(at.X+w, p.Width-unprinted)
	line(p, x0, at.Y, x1, at.Y, thin)
	line(p, x0, at.Y+h, x1, at.Y+h, thin)
	if at.X >= unprinted {
		line(p, at.X, at.Y, at.X, at.Y+h, thin)
		line(p, at.X+w, at.Y, at.X+w, at.Y+h, thin)
	}
}

// stackGap is the air between pages that are shown under one another, mm.
const stackGap = 8

// stacked puts pages under one another on one surface.
func stacked(pages []Page) Page {
	var out Page
	for i := range pages {
		if i > 0 {
			out.Height += stackGap
		}
		pages[i].Draw(shifted{&out, out.Height})
		out.Width = max(out.Width, pages[i].Width)
		out.Height += pages[i].Height
	}
	return out
}
