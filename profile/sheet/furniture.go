package sheet

import (
	"fmt"
	"math"
	"strings"

	"spindlestick/profile"
)

// What stands on every page besides its content.
const (
	margin    = 11  // mm; printers leave up to about 6 mm of the paper white
	headRoom  = 9   // the page's name and number, mm
	notesRoom = 3.4 // each line under it, mm
	footRoom  = 17  // check bar, scale statement, title block, mm
	footTall  = 23  // the same on a narrow page, in two rows, mm
	inchRoom  = 8   // more for the second check bar on a narrow page, mm
	sideRoom  = 9   // the upright check bar, mm
	wideFoot  = 230 // pages with this much room have their foot in one row, mm
)

// scaleWords tell how to print; they stand on every page.
const scaleWords = "Print at 100 %, no fitting. Measure the bars first."

// layout is a page of given size divided into head, content, side and foot.
type layout struct {
	width, height float64 // as laid out: the paper's, divided by sx and sy
	sx, sy        float64 // what undoes the printer's error across and down the page
	notes         string  // in the head; may be empty
	printer       string  // which printer the sheet is made for, in the head; may be empty
	inches        bool    // a second check bar in inches
}

func (l layout) narrow() bool { return l.width-2*margin < wideFoot }

func (l layout) foot() float64 {
	switch {
	case l.narrow() && l.inches:
		return footTall + inchRoom
	case l.narrow():
		return footTall
	}
	return footRoom
}

func (l layout) head() float64 { return headRoom + notesRoom*float64(len(l.headLines())) }

// headLines are the lines under the page's name.
func (l layout) headLines() []string {
	var out []string
	for _, s := range []string{l.printer, l.notes} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// content returns the upper left corner of the room for content, and its size.
func (l layout) content() (at Point, width, height float64) {
	at = Point{margin, margin + l.head()}
	return at, l.width - 2*margin - sideRoom, l.height - 2*margin - l.head() - l.foot()
}

// facts are what the title block says.
type facts struct {
	title, date, sheet string
	length, widest     string
	units              string
}

func newFacts(p profile.Pattern, o Options) facts {
	round, square := p.Largest()
	f := facts{title: o.Title, date: o.Date, units: "millimetres"}
	switch o.Units {
	case profile.Inch:
		f.units = "inches, decimal"
	case profile.Fraction:
		f.units = "inches, to 1/64"
	}
	f.length = figure(p.Length, o.Units) + " " + o.Units.Suffix()
	if p.ULength > 0 {
		f.length += " (±" + bound(p.ULength, o.Units) + ", k = 2)"
	}
	if round > 0 {
		f.widest = "Ø " + figure(round, o.Units) + " " + o.Units.Suffix()
	}
	if square > 0 {
		f.widest = strings.TrimSpace(f.widest + "  square " + figure(square, o.Units) + " " + o.Units.Suffix())
	}
	return f
}

// furnish draws head, foot and check bars.
func (l layout) furnish(s Surface, f facts, number, of int, part *span) {
	right := l.width - margin
	s.Write(Text{At: Point{margin, margin + 4}, S: f.sheet, Cap: 3, Bold: true, Layer: Lettered})
	s.Write(Text{At: Point{right, margin + 4}, S: fmt.Sprintf("page %d of %d", number, of), Cap: 2.4, Anchor: End, Layer: Lettered})
	for i, words := range l.headLines() {
		t := Text{At: Point{margin, margin + headRoom + notesRoom*float64(i)}, S: words, Cap: 2, Layer: Lettered}
		s.Write(cutTo(t, right-margin))
	}
	top := l.height - margin - l.foot()
	mmBar(s, Point{margin + 0.2, top + 5}, 100, false)
	if l.inches {
		inchBar(s, Point{margin + 0.2, top + 13})
	}
	l.sideBar(s, top)
	if l.narrow() {
		l.titleBlock(s, Point{margin + 106, top}, right-margin-106, f)
		l.statement(s, Point{margin, top + l.foot() - 9}, 100, part)
		return
	}
	l.statement(s, Point{margin + 108, top + 4}, 66, part)
	width := math.Min(right-margin-182, widestBlock)
	l.titleBlock(s, Point{right - width, top}, width, f)
}

// sideBar draws the upright check bar, 100 mm where there is room, else 50.
func (l layout) sideBar(s Surface, bottom float64) {
	at, _, _ := l.content()
	n := 100
	if bottom-at.Y < 104 {
		n = 50
	}
	mmBar(s, Point{l.width - margin - 4, bottom - 2 - float64(n)}, n, true)
}

// span is a stretch of the whole piece, as shares from 0 to 1 and in figures, that a page shows.
type span struct {
	from, to float64
	words    string
}

// statement says how to print, and shows which part of the piece the page holds.
func (l layout) statement(s Surface, at Point, width float64, part *span) {
	words := Wrap(scaleWords, 2.2, width)
	for i, w := range words {
		s.Write(Text{At: Point{at.X, at.Y + 3.6*float64(i)}, S: w, Cap: 2.2, Bold: false, Layer: Lettered})
	}
	if part == nil {
		return
	}
	y := at.Y + 3.6*float64(len(words)) - 0.6
	thin := Pen{Layer: Furnish, Width: 0.15}
	bar(s, at.X+part.from*width, y, at.X+part.to*width, y+2, 0.55, Furnish)
	box(s, at.X, y, at.X+width, y+2, thin)
	s.Write(Text{At: Point{at.X, y + 4.8}, S: part.words, Cap: 1.8, Layer: Lettered})
}

// widestBlock is the title block's width where there is room, mm.
const widestBlock = 110

// titleBlock draws the framed block with what the sheet is about.
func (l layout) titleBlock(s Surface, at Point, width float64, f facts) {
	thin := Pen{Layer: Furnish, Width: 0.15}
	const height = 16
	box(s, at.X, at.Y, at.X+width, at.Y+height, thin)
	line(s, at.X, at.Y+6, at.X+width, at.Y+6, thin)
	s.Write(cutTo(Text{At: Point{at.X + 1.5, at.Y + 4.2}, S: f.title, Cap: 2.6, Bold: true, Layer: Lettered}, width-3-textWidth(f.date, 2)-3))
	s.Write(Text{At: Point{at.X + width - 1.5, at.Y + 4.2}, S: f.date, Cap: 2, Anchor: End, Layer: Lettered})
	small := func(y float64, words string) {
		s.Write(cutTo(Text{At: Point{at.X + 1.5, at.Y + y}, S: words, Cap: 1.8, Layer: Lettered}, width-3))
	}
	small(9, strings.TrimSpace("length "+f.length))
	small(11.9, "widest "+f.widest)
	small(14.8, "full size; "+f.units)
}

// cutTo shortens a text to a width, marking that it goes on.
func cutTo(t Text, width float64) Text {
	t.S = printable(t.S)
	r := []rune(t.S)
	for t.Width() > width && len(r) > 0 {
		r = r[:len(r)-1]
		t.S = strings.TrimSpace(string(r)) + "…"
	}
	return t
}

// partOf returns the span of the piece that tiles show.
func partOf(tiles []tile, length float64, u profile.Unit) *span {
	from := math.Max(0, math.Max(tiles[0].From, tiles[0].Left))
	last := tiles[len(tiles)-1]
	to := math.Min(length, math.Min(last.To, last.Right))
	words := fmt.Sprintf("this page: %s to %s %s from the hook end", figure(from, u), figure(to, u), u.Suffix())
	return &span{from / length, to / length, words}
}
