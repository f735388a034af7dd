package sheet

// lists plans the pages that do not run along the piece: the table and, where they fit nowhere else, the notes.
func (m *maker) lists() error {
	long, short, err := m.options.Paper.sides()
	if err != nil {
		return err
	}
	l := m.layout(short, long)
	_, width, height := l.content()
	for _, part := range pageful(m.blocks(width), height) {
		at, _, _ := l.content()
		m.plans = append(m.plans, plan{layout: l, sheet: part[0].sheet, draw: func(s Surface) {
			y := at.Y
			for _, b := range part {
				b.draw(s, Point{at.X, y})
				y += b.height
			}
		}})
	}
	return nil
}

// block is something that stands across a page, and is not divided.
type block struct {
	sheet  string
	height float64
	head   bool   // a heading, kept with what follows
	under  *block // what is repeated above it on a new page; may be nil
	draw   func(s Surface, at Point)
}

// blocks returns what the list pages hold.
func (m *maker) blocks(width float64) []block {
	var out []block
	if m.wants(Table) {
		out = append(out, m.table(width)...)
		out = append(out, m.groups(width)...)
	}
	if _, fits := m.notes(width + 2*margin); !fits {
		out = append(out, block{sheet: "Notes", height: tableLine + 2, head: true, draw: heading("Notes")})
		for _, n := range m.options.Notes {
			out = append(out, paragraph("Notes", n, width)...)
		}
	}
	return out
}

func heading(words string) func(Surface, Point) {
	return func(s Surface, at Point) {
		s.Write(Text{At: Point{at.X, at.Y + 3.4}, S: words, Cap: 2.4, Bold: true, Layer: Lettered})
	}
}

func paragraph(sheet, words string, width float64) []block {
	var out []block
	for _, l := range Wrap(words, tableCap, width) {
		out = append(out, block{sheet: sheet, height: tableLine, draw: func(s Surface, at Point) {
			s.Write(Text{At: Point{at.X, at.Y + 3.2}, S: l, Cap: tableCap, Layer: Lettered})
		}})
	}
	return out
}

// pageful divides blocks into pages of a height; headings that would end a page go with what follows, and a table's
// head is repeated.
func pageful(blocks []block, height float64) [][]block {
	var pages [][]block
	var page []block
	used := 0.0
	for i, b := range blocks {
		need := b.height
		if b.head && i+1 < len(blocks) {
			need += blocks[i+1].height
		}
		if used+need > height && len(page) > 0 {
			pages, page, used = append(pages, page), nil, 0
			if b.under != nil {
				page, used = []block{*b.under}, b.under.height
			}
		}
		page = append(page, b)
		used += b.height
	}
	if len(page) > 0 {
		pages = append(pages, page)
	}
	return pages
}
