package sheet

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"spindlestick/profile"
)

// column is a column of the table.
type column struct {
	head  string
	width float64 // share of the table's width
	right bool    // figures stand at its right edge
}

func columns(u profile.Unit) []column {
	unit := u.Suffix()
	return []column{
		{"no.", 0.06, true}, {"what", 0.22, false}, {"from hook end, " + unit, 0.16, true}, {"± mm", 0.09, true},
		{"diameter, " + unit, 0.17, true}, {"after a step, " + unit, 0.17, true}, {"± mm", 0.09, true},
	}
}

const (
	tableCap  = 2.2 // mm
	tableLine = 4.6 // from one line to the next, mm
)

// lines returns the table's cells, a line for each station.
func (m *maker) lines() [][]string {
	u := m.options.Units
	write := func(mm float64) string { return profile.FormatLength(mm, u) }
	var out [][]string
	for i, st := range stationsOf(m.pattern) {
		before, after := measures(m.pattern, st, write)
		switch {
		case before == "":
			before, after = after, ""
		case before == after:
			after = ""
		}
		out = append(out, []string{ordinal(i), m.what(st), write(st.X), bound(st.UX), before, after, bound(st.UD)})
	}
	return out
}

// bound writes an expanded uncertainty, mm; nothing where it is not known.
func bound(u float64) string {
	if u <= 0 {
		return ""
	}
	return fmt.Sprintf("%.2f", u)
}

// what says in words what a station is.
func (m *maker) what(st profile.Station) string {
	if st.Element >= len(m.pattern.Elements) {
		return "far end"
	}
	e := m.pattern.Elements[st.Element]
	words := string(e.Kind)
	if st.Role != profile.Edge {
		words = "  " + string(st.Role) + " of it"
	}
	if uncertain(st.State) {
		words += ", " + string(st.State)
	}
	return words
}

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
		out = append(out, m.photo(width)...)
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
	for _, l := range wrap(words, tableCap, width) {
		out = append(out, block{sheet: sheet, height: tableLine, draw: func(s Surface, at Point) {
			s.Write(Text{At: Point{at.X, at.Y + 3.2}, S: l, Cap: tableCap, Layer: Lettered})
		}})
	}
	return out
}

// table returns the station table, its head and a line for each station.
func (m *maker) table(width float64) []block {
	cols := columns(m.options.Units)
	head := make([]string, len(cols))
	for i, c := range cols {
		head[i] = c.head
	}
	const sheet = "Stations"
	top := block{sheet: sheet, height: tableLine + 1, head: true, draw: func(s Surface, at Point) {
		cells(s, at, width, cols, head, true)
		line(s, at.X, at.Y+tableLine, at.X+width, at.Y+tableLine, Pen{Layer: Furnish, Width: 0.25})
	}}
	out := []block{top}
	for i, l := range m.lines() {
		out = append(out, block{sheet: sheet, height: tableLine, under: &top, draw: func(s Surface, at Point) {
			if i%2 == 1 {
				bar(s, at.X, at.Y, at.X+width, at.Y+tableLine, 0.94, Furnish)
			}
			cells(s, at, width, cols, l, false)
		}})
	}
	return out
}

func cells(s Surface, at Point, width float64, cols []column, texts []string, head bool) {
	x := at.X
	for i, c := range cols {
		w := c.width * width
		t := Text{At: Point{x + 1, at.Y + 3.2}, S: texts[i], Cap: tableCap, Bold: head, Layer: Lettered}
		if head {
			t.Cap = 1.9
		}
		if strings.HasPrefix(texts[i], "  ") {
			t.At.X += 4
		}
		if c.right {
			t.Anchor, t.At.X = End, x+w-1.5
		}
		s.Write(t)
		x += w
	}
}

// groups lists diameters that lie together, so that calipers are set once for all of them.
func (m *maker) groups(width float64) []block {
	found := m.together()
	if len(found) == 0 {
		return nil
	}
	const sheet = "Stations"
	u := m.options.Units
	title := fmt.Sprintf("Set the calipers once: diameters within %.2f mm", m.options.Group)
	out := []block{
		{sheet: sheet, height: 4, head: true, draw: func(Surface, Point) {}},
		{sheet: sheet, height: tableLine + 1, head: true, draw: heading(title)},
	}
	for _, g := range found {
		var at []string
		for _, n := range g.stations {
			at = append(at, ordinal(n))
		}
		words := fmt.Sprintf("Ø %s %s  at stations %s", profile.FormatLength(g.mean, u), u.Suffix(), strings.Join(at, ", "))
		out = append(out, paragraph(sheet, words, width)...)
	}
	return out
}

type group struct {
	mean     float64
	stations []int
}

// together gathers the stations' diameters, in order of size, into groups that span no more than the option says;
// a diameter that stands alone is none.
func (m *maker) together() []group {
	type entry struct {
		d       float64
		station int
	}
	var all []entry
	for i, st := range stationsOf(m.pattern) {
		for _, d := range diameters(m.pattern, st) {
			all = append(all, entry{d, i})
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].d < all[j].d })
	var out []group
	for i := 0; i < len(all) && m.options.Group > 0; {
		g := group{}
		sum, j := 0.0, i
		for ; j < len(all) && all[j].d-all[i].d <= m.options.Group; j++ {
			sum += all[j].d
			g.stations = append(g.stations, all[j].station)
		}
		g.mean = sum / float64(j-i)
		slices.Sort(g.stations)
		g.stations = slices.Compact(g.stations)
		if len(g.stations) > 1 {
			out = append(out, g)
		}
		i = j
	}
	return out
}

// diameters returns the round diameters at a station, one or two.
func diameters(p profile.Pattern, st profile.Station) []float64 {
	var out []float64
	before, after := measures(p, st, func(mm float64) string { return fmt.Sprint(mm) })
	if before != "" && !strings.HasPrefix(before, flatSign) && st.Before > 0 {
		out = append(out, st.Before)
	}
	if after != "" && after != before && !strings.HasPrefix(after, flatSign) && st.After > 0 {
		out = append(out, st.After)
	}
	return out
}

// photo returns the photograph, at most 60 mm high.
func (m *maker) photo(width float64) []block {
	if m.options.Photo == nil {
		return nil
	}
	b := m.options.Photo.Bounds()
	if b.Dx() == 0 || b.Dy() == 0 {
		return nil
	}
	scale := math.Min(60/float64(b.Dy()), width/float64(b.Dx()))
	w, h := scale*float64(b.Dx()), scale*float64(b.Dy())
	return []block{{sheet: "Stations", height: h + 4, head: true, draw: func(s Surface, at Point) { s.Picture(m.options.Photo, at, w, h) }}}
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
