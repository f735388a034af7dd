package sheet

import (
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
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
		{"no.", 0.05, true}, {"what", 0.2, false}, {"from hook end, " + unit, 0.155, true}, {"± " + unit, 0.08, true},
		{"diameter, " + unit, 0.145, true}, {"after a step, " + unit, 0.145, true}, {"± " + unit, 0.08, true}, {"size to, " + unit, 0.135, true},
	}
}

const (
	tableSheet = "Stations"
	tableCap   = 2.2 // mm
	tableLine  = 4.6 // from one line to the next, mm
)

// lines returns the table's cells, a line for each station.
func (m *maker) lines() [][]string {
	u := m.options.Units
	write := func(mm float64) string { return profile.FormatLength(mm, u) }
	var out [][]string
	stations := Numbered(m.pattern)
	set := settings(m.pattern, stations, m.options)
	for i, st := range stations {
		before, after := measures(m.pattern, st, write)
		switch {
		case before == "":
			before, after = after, ""
		case before == after:
			after = ""
		}
		out = append(out, []string{ordinal(i), m.what(st), write(st.X), bound(st.UX, u), before, after, bound(st.UD, u), set[i].written(m.options.Allowance, write)})
	}
	return out
}

// hopeless is the uncertainty from which its figure says nothing, mm: it is larger than most turnings are thick.
const hopeless = 100

// bound writes an expanded uncertainty: to 0.01 mm or 0.001 in; nothing where it is not known.
func bound(mm float64, u profile.Unit) string {
	switch {
	case !(mm > 0):
		return ""
	case mm >= hopeless:
		return "large"
	}
	if u == profile.Fraction {
		u = profile.Inch
	}
	return profile.FormatLength(mm, u)
}

// what says in words what a station is.
func (m *maker) what(st profile.Station) string {
	if st.Element >= len(m.pattern.Elements) {
		return "far end"
	}
	words := m.pattern.Word(st.Element)
	if st.Role != profile.Edge {
		words = "  its " + string(st.Role)
	}
	if uncertain(st.State) {
		words += ", " + string(st.State)
	}
	return words
}

// table returns the station table, its head and a line for each station.
func (m *maker) table(width float64) []block {
	cols := columns(m.options.Units)
	head := make([]string, len(cols))
	for i, c := range cols {
		head[i] = c.head
	}
	top := block{sheet: tableSheet, height: tableLine + 1, head: true, draw: func(s Surface, at Point) {
		cells(s, at, width, cols, head, true)
		line(s, at.X, at.Y+tableLine, at.X+width, at.Y+tableLine, Pen{Layer: Furnish, Width: 0.25})
	}}
	out := []block{top}
	for i, l := range m.lines() {
		out = append(out, block{sheet: tableSheet, height: tableLine, under: &top, draw: func(s Surface, at Point) {
			if i%2 == 1 {
				bar(s, at.X, at.Y, at.X+width, at.Y+tableLine, 0.94, Furnish)
			}
			cells(s, at, width, cols, l, false)
		}})
	}
	return append(out, paragraph(tableSheet, m.tableWords(), width)...)
}

// tableWords explain the table.
func (m *maker) tableWords() string {
	o := m.options
	length := func(mm float64) string { return profile.FormatLength(mm, o.Units) + " " + o.Units.Suffix() }
	words := "± is the expanded uncertainty (k = 2) of the figure before it, as far as it is known. □ is the side of a square."
	if o.Allowance >= 0 {
		words += " What is sized is " + length(o.Allowance) + " over the smaller diameter, a bead's crest " + length(sizing.UsualSanding) + "."
	}
	if o.Group >= 0 {
		words += " Stations with the same letter share a setting of the calipers."
	}
	if o.Hook > 0 {
		words += " The blank goes on for " + length(o.Hook) + " before station 1, and the stick hooks over its end."
	}
	return words
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
