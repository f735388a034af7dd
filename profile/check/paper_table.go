package check

import (
	"fmt"
	"math"

	"spindlestick/profile/sheet"
)

// cell is a column's place in a table: share of the width, and on which side its text stands.
type cell struct {
	head  string
	share float64
	right bool
}

// tableText is a table of words.
type tableText struct {
	name  string
	cells []cell
	lines []tableLine
}

type tableLine struct {
	texts []string
	bold  bool
}

func diameterTable(r Report) tableText {
	t := tableText{name: "Diameters, mm", cells: []cell{
		{"no.", 0.04, true}, {"station", 0.08, true}, {"what", 0.22, false}, {"original", 0.09, true}, {"copy", 0.08, true}, {"deviation", 0.1, true},
		{"±", 0.06, true}, {"tolerance", 0.09, true}, {"verdict", 0.16, false}, {"take off", 0.08, true},
	}}
	for _, s := range r.Stations {
		copied, deviation, u := mm(s.Copy), starred(s.Deviation, s.Differs()), mm(s.U)
		if s.Absent {
			copied = ""
		}
		if !s.Verdict.Claims() {
			deviation, u = "", ""
		}
		number, off := "", ""
		if s.Number > 0 {
			number = fmt.Sprint(s.Number)
		}
		if s.TakeOff() > 0 {
			off = mm(s.TakeOff())
		}
		line := []string{number, mm(s.X), s.whatSide(), mm(s.Original), copied, deviation, u, mm(s.Tolerance), string(s.Verdict), off}
		t.lines = append(t.lines, tableLine{line, s.Verdict == Outside})
	}
	return t
}

// whatSide is the element and what of it; where a step's two sides would read alike it says which.
func (r Row) whatSide() string {
	if r.Side == OneSize {
		return r.What
	}
	return r.What + " (" + string(r.Side) + ")"
}

func placeTable(r Report) tableText {
	t := tableText{name: "Places along the axis, mm from the original's hook end", cells: []cell{
		{"original", 0.1, true}, {"what", 0.35, false}, {"copy", 0.1, true}, {"deviation", 0.13, true}, {"±", 0.08, true},
		{"tolerance", 0.1, true}, {"verdict", 0.14, false},
	}}
	for _, s := range r.Positions {
		deviation, u := starred(s.Deviation, s.Differs()), mm(s.U)
		if !s.Verdict.Claims() {
			deviation, u = "", ""
		}
		t.lines = append(t.lines, tableLine{[]string{mm(s.X), s.What, mm(s.Copy), deviation, u, mm(s.Tolerance), string(s.Verdict)}, s.Verdict == Outside})
	}
	return t
}

func mm(v float64) string { return fmt.Sprintf("%.2f", v) }

// Signed writes a deviation to a hundredth of a millimetre: none has no sign.
func Signed(v float64) string {
	if math.Abs(v) < 0.005 {
		return "0.00"
	}
	return fmt.Sprintf("%+.2f", v)
}

func starred(v float64, differs bool) string {
	if differs {
		return Signed(v) + " *"
	}
	return Signed(v)
}

// table writes a table, its head again on every page.
func (p *paper) table(t tableText) {
	p.y += sectionGap
	need := float64(len(t.lines)+2) * paperLine
	if need > p.height-2*paperMargin-paperHead { // it does not fit any page whole
		need = 4 * paperLine
	}
	p.room(need)
	p.words(t.name, true)
	p.head(t)
	for i, l := range t.lines {
		if p.room(paperLine) {
			p.head(t)
		}
		if i%2 == 1 {
			p.shade(p.y, p.y+paperLine)
		}
		p.cells(t.cells, l.texts, l.bold)
	}
}

func (p *paper) head(t tableText) {
	var heads []string
	for _, c := range t.cells {
		heads = append(heads, c.head)
	}
	p.cells(t.cells, heads, true)
	p.page().Stroke([]sheet.Point{{X: paperMargin, Y: p.y}, {X: p.width - paperMargin, Y: p.y}}, false, sheet.Pen{Layer: sheet.Furnish, Width: 0.25})
	p.y += 0.4
}

func (p *paper) shade(top, bottom float64) {
	l, r := paperMargin, p.width-paperMargin
	p.page().Fill([]sheet.Point{{X: l, Y: top}, {X: r, Y: top}, {X: r, Y: bottom}, {X: l, Y: bottom}}, 0.94, sheet.Furnish)
}

func (p *paper) cells(cells []cell, texts []string, bold bool) {
	x := paperMargin
	for i, c := range cells {
		w := c.share * (p.width - 2*paperMargin)
		t := sheet.Text{At: sheet.Point{X: x + 1.5, Y: p.y + 3.2}, S: texts[i], Cap: paperCap, Bold: bold, Layer: sheet.Lettered}
		if c.right {
			t.Anchor, t.At.X = sheet.End, x+w-1.5
		}
		p.page().Write(fitted(t, w-1.5))
		x += w
	}
	p.y += paperLine
}
