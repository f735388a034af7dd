package plan

import (
	"strconv"

	"spindlestick/profile"
)

// Section is a part of the plan in words and tables, for a terminal, a page or a window.
type Section struct {
	Title  string
	Blocks []Block
}

// Block is a paragraph, a caution, or a table.
type Block struct {
	Text    string
	Caution bool
	Table   *Table
}

// Table is figures in columns.
type Table struct {
	Columns []Column
	Rows    [][]string
}

// Column heads a column.
type Column struct {
	Head  string
	Right bool // figures stand at its right edge
}

func (s *Section) say(text string) { s.Blocks = append(s.Blocks, Block{Text: text}) }

func (s *Section) heed(cautions []string) {
	for _, c := range cautions {
		s.Blocks = append(s.Blocks, Block{Text: c, Caution: true})
	}
}

// show adds a table unless it has no rows.
func (s *Section) show(t Table) {
	if len(t.Rows) > 0 {
		s.Blocks = append(s.Blocks, Block{Table: &t})
	}
}

func left(head string) Column    { return Column{Head: head} }
func figures(head string) Column { return Column{Head: head, Right: true} }

// mm writes a length in millimetres without its unit.
func mm(v float64) string { return profile.FormatLength(v, profile.MM) }

// inch writes a length in inches and 64ths without its unit.
func inch(v float64) string { return profile.FormatLength(v, profile.Fraction) }

// both writes a length in mm and in inches.
func both(v float64) string { return mm(v) + " mm (" + inch(v) + " in)" }

// inchOver writes a caliper setting in inches, rounded up to the next 64th, so that nothing is cut under size.
func inchOver(v float64) string {
	const step = profile.MMPerInch / 64
	n := v / step
	whole := float64(int(n))
	if n-whole > rounding {
		whole++
	}
	return inch(whole * step)
}

func ordinal(i int) string { return strconv.Itoa(i + 1) }

// name is an element by its number and kind.
func (p Plan) name(i int) string { return ordinal(i) + " " + string(p.Pattern.Elements[i].Kind) }
