package sheet

import "math"

// widestRoll is the room that a single strip's figures may take beyond a short piece, mm.
const widestRoll = 260

// listWidth is the width of the table on one surface, mm.
const listWidth = 190

// wholeGap is the air between sheets on one surface, mm.
const wholeGap = 8

// whole lays everything out on one surface without joins; deep is the stick's small profile's depth at most, sx and sy
// undo a printer's error.
func (m *maker) whole(deep, sx, sy float64) (Page, error) {
	bands, lists := m.bands(deep), append(m.blocks(listWidth), m.recordBlock()...)
	width, height, err := m.extent(bands, lists)
	if err != nil {
		return Page{}, err
	}
	l := m.layout(widestRoll, 1)
	l.sx, l.sy = sx, sy
	l.width = width + 2*margin + sideRoom
	l.height = math.Max(height, 60) + 2*margin + l.head() + l.foot()
	at, _, _ := l.content()
	p := plan{layout: l, sheet: "Full size", draw: func(s Surface) {
		y := at.Y
		for _, b := range bands {
			b.draw(s, Point{at.X, y}, 0)
			y += b.height() + wholeGap
		}
		for _, b := range lists {
			b.draw(s, Point{at.X, y})
			y += b.height
		}
	}}
	switch {
	case len(bands) == 1 && len(lists) == 0:
		p.sheet = bands[0].name()
	case len(bands) == 0:
		p.sheet = lists[0].sheet
	}
	return m.page(p, 1, 1), nil
}

// extent arranges every band as a single strip and returns the room that all need.
func (m *maker) extent(bands []band, lists []block) (width, height float64, err error) {
	width = widestRoll
	for _, b := range bands {
		left, right := b.room()
		need := math.Max(widestRoll, left+m.pattern.Length+right)
		if err := b.arrange(cut(m.pattern.Length, left, right, need, nil, 1), need); err != nil {
			return 0, 0, err
		}
		width = math.Max(width, need)
		height += b.height() + wholeGap
	}
	for _, b := range lists {
		height += b.height
	}
	if len(lists) > 0 {
		height += wholeGap
	}
	return width, height, nil
}
