package plan

import (
	"strings"

	"spindlestick/profile/sheet"
)

// rows returns the picture and the sections as rows of a page so wide.
func (p Plan) rows(width float64) []row {
	out := []row{p.picture(width)}
	for _, s := range p.Sections() {
		out = append(out, headingRow(s.Title, width))
		for i, b := range s.Blocks {
			if b.Table != nil {
				out = append(out, tableRows(*b.Table, width)...)
				continue
			}
			out = append(out, paragraphRows(b, width)...)
			out[len(out)-1].keep = i+1 < len(s.Blocks) // what introduces a table stays with it
		}
	}
	return out
}

func write(s sheet.Surface, x, y float64, words string, size float64, bold bool) {
	s.Write(sheet.Text{At: sheet.Point{X: x, Y: y}, S: words, Cap: size, Bold: bold, Layer: sheet.Lettered})
}

func measure(words string, size float64) float64 { return sheet.Text{S: words, Cap: size}.Width() }

func headingRow(title string, width float64) row {
	return row{height: 9, keep: true, draw: func(s sheet.Surface, x, y float64) {
		write(s, x, y+6.6, title, titleCap, true)
		s.Stroke([]sheet.Point{{X: x, Y: y + 8}, {X: x + width, Y: y + 8}}, false, thin())
	}}
}

// paragraphRows sets a paragraph; a caution has an exclamation mark on black before it.
func paragraphRows(b Block, width float64) []row {
	indent := 0.0
	if b.Caution {
		indent = 5
	}
	lines := sheet.Wrap(b.Text, bodyCap, width-indent)
	var out []row
	for i, l := range lines {
		out = append(out, row{height: bodyLine, keep: i+1 < len(lines), draw: func(s sheet.Surface, x, y float64) {
			if b.Caution && i == 0 {
				mark(s, x+0.4, y+0.7)
			}
			write(s, x+indent, y+3.1, l, bodyCap, false)
		}})
	}
	return out
}

// mark draws a caution's mark.
func mark(s sheet.Surface, x, y float64) {
	const side = 2.9
	s.Fill([]sheet.Point{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}}, 0, sheet.Furnish)
	const bar = 0.35
	mid := x + side/2
	white := func(top, bottom float64) {
		s.Fill([]sheet.Point{{X: mid - bar/2, Y: y + top}, {X: mid + bar/2, Y: y + top}, {X: mid + bar/2, Y: y + bottom}, {X: mid - bar/2, Y: y + bottom}}, 1, sheet.Furnish)
	}
	white(0.5, 1.8)
	white(2.1, 2.45)
}

// columnGap stands between two columns, mm.
const columnGap = 4.0

// tableRows sets a table, its letters smaller where it would be wider than the page; every other line has a ground.
func tableRows(t Table, width float64) []row {
	size := bodyCap
	if full := t.across(size); full > width {
		size *= width / full
	}
	widths := t.widths(func(s string) float64 { return measure(s, size) })
	gap := columnGap * size / bodyCap
	line := func(cells []string, bold bool) func(s sheet.Surface, x, y float64) {
		return func(s sheet.Surface, x, y float64) {
			for i, c := range t.Columns {
				text := sheet.Text{At: sheet.Point{X: x, Y: y + 3.1}, S: cells[i], Cap: size, Layer: sheet.Lettered}
				if bold {
					text.Grey = 0.3
				}
				if c.Right {
					text.At.X, text.Anchor = x+widths[i], sheet.End
				}
				s.Write(text)
				x += widths[i] + gap
			}
		}
	}
	var heads []string
	for _, c := range t.Columns {
		heads = append(heads, c.Head)
	}
	head := row{height: bodyLine, keep: true, draw: line(heads, true)}
	out := []row{head}
	for i, cells := range t.Rows {
		draw := line(cells, false)
		out = append(out, row{height: bodyLine, keep: goesOn(t, i), head: &head, draw: func(s sheet.Surface, x, y float64) {
			if i%2 == 0 {
				s.Fill([]sheet.Point{{X: x, Y: y}, {X: x + width, Y: y}, {X: x + width, Y: y + bodyLine}, {X: x, Y: y + bodyLine}}, 0.94, sheet.Furnish)
			}
			draw(s, x+0.5, y)
		}})
	}
	return append(out, row{height: 1.5, draw: func(sheet.Surface, float64, float64) {}})
}

// longestKept bounds how many lines of one entry stay together on a page.
const longestKept = 12

// goesOn reports whether the line after line i belongs to the same entry: its first cell is empty.
func goesOn(t Table, i int) bool {
	next := i + 1
	if next >= len(t.Rows) || strings.TrimSpace(t.Rows[next][0]) != "" {
		return false
	}
	first := i
	for first > 0 && t.Rows[first][0] == "" {
		first--
	}
	return (next-first)%longestKept != 0
}

// across is the width of the whole table at a size of letters, mm.
func (t Table) across(size float64) float64 {
	sum := columnGap*float64(len(t.Columns)-1) + 1
	for _, w := range t.widths(func(s string) float64 { return measure(s, size) }) {
		sum += w
	}
	return sum
}
