package check

import (
	"fmt"
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// SpreadPaper lays out for print how several originals agree: the likely pattern with every piece over it, what is named of
// each piece, and the spread of diameters and lengths, with what every piece says.
func SpreadPaper(pieces []Piece, likely profile.Pattern, s Spread, o PaperOptions) (sheet.Document, error) {
	p, err := newPaper(o)
	if err != nil {
		return sheet.Document{}, err
	}
	p.turn(fmt.Sprintf("The likely pattern of %d originals", len(counting(pieces))))
	for _, words := range p.spreadHead(pieces, s) {
		p.note(words)
	}
	p.y += sectionGap / 2
	p.together(pieces, likely)
	p.findings(pieces, s)
	p.table(spreadTable("Diameters, mm", pieces, s.Diameters))
	p.table(spreadTable("Lengths along the axis, mm", pieces, s.Lengths))
	p.note("± is the expanded uncertainty (k = 2) of the likely figure, scatter the standard deviation of one piece. * marks a figure further from the others than three of those, or than it is uncertain by.")
	return p.document("Likely pattern"), nil
}

// counting are the indices of the pieces that are not dropped.
func counting(pieces []Piece) []int {
	var out []int
	for i, p := range pieces {
		if !p.Drop {
			out = append(out, i)
		}
	}
	return out
}

// spreadHead numbers the pieces: in the tables only their numbers stand.
func (p *paper) spreadHead(pieces []Piece, s Spread) []string {
	var names []string
	for i, q := range pieces {
		name := fmt.Sprintf("%d %s", i+1, q.name())
		switch {
		case q.Drop:
			name += " (dropped)"
		case q.Weight > 0 && q.Weight != 1:
			name += fmt.Sprintf(" (weight %g)", q.Weight)
		}
		names = append(names, name)
	}
	return []string{
		strings.Join(names, ".  ") + ".",
		fmt.Sprintf("Elements are paired in order, whatever the lengths; their order is that of %d. Every figure is a robust mean over the pieces that show it.", s.Model+1),
	}
}

// findings lists what is named of each piece.
func (p *paper) findings(pieces []Piece, s Spread) {
	p.y += sectionGap
	p.words("What stands out", true)
	none := true
	for i, q := range pieces {
		for _, r := range s.ByPiece(i) {
			none = false
			p.room(paperLine)
			p.words(fmt.Sprintf("%d %s: %s", i+1, q.name(), r.Words), false)
		}
	}
	if none {
		p.words("Nothing: the pieces agree within scatter and uncertainty.", false)
	}
}

// mostWords is how many pieces' figures stand in a table; of more only the spread does.
const mostWords = 8

func spreadTable(name string, pieces []Piece, all []Agreement) tableText {
	t := tableText{name: name, cells: []cell{{"station", 0.09, true}, {"what", 0.2, false}, {"likely", 0.09, true}, {"±", 0.07, true}, {"scatter", 0.08, true}}}
	var columns []int
	if in := counting(pieces); len(in) <= mostWords {
		columns = in
	}
	for _, i := range columns {
		t.cells = append(t.cells, cell{fmt.Sprint(i + 1), 0.47 / float64(len(columns)), true})
	}
	for _, a := range all {
		line := []string{mm(a.X), a.What, mm(a.Value), mm(a.U), mm(a.Scatter)}
		apart := false
		for _, i := range columns {
			line = append(line, "")
			if w, ok := a.word(i); ok {
				line[len(line)-1] = w.starred()
				apart = apart || w.Outlier
			}
		}
		t.lines = append(t.lines, tableLine{line, apart})
	}
	return t
}

func (w Word) starred() string {
	if w.Outlier {
		return mm(w.Value) + " *"
	}
	return mm(w.Value)
}

// together draws the likely half profile as a grey shape and every piece over it as a line, each element of it where the
// likely pattern has it.
func (p *paper) together(pieces []Piece, likely profile.Pattern) {
	widest, _ := likely.Largest()
	for _, e := range likely.Elements {
		widest = max(widest, e.D0, e.D1)
	}
	along := (p.width - 2*paperMargin) / likely.Length
	up := (overlayRoom - 3*paperLine) / (widest / 2)
	p.words("Half profiles", true)
	p.words(fmt.Sprintf("Grey: the likely pattern. Lines: the pieces, laid on it element by element. Diameters are drawn %.1f times as large as lengths.", up/along), false)
	axis := p.y + overlayRoom - 2*paperLine
	at := func(x, radius float64) sheet.Point { return sheet.Point{X: paperMargin + x*along, Y: axis - radius*up} }
	base := Piece{Pattern: likely}
	for n, i := range counting(pieces) {
		q := pieces[i]
		r := Report{Original: base, Copy: q}
		r.pairs, _ = match(base.marks(), q.marks())
		both := r.both(1)
		for k := range both {
			both[k].xc = both[k].xo
		}
		if n == 0 {
			p.grey(both, at)
		}
		p.outline(both, at)
	}
	p.page().Stroke([]sheet.Point{at(0, 0), at(likely.Length, 0)}, false, sheet.Pen{Layer: sheet.Centre, Width: 0.18, Dash: []float64{6, 1.5, 1, 1.5}})
	p.y = axis + sectionGap
}
