package sheet

import "math"

// widestRoll is the room that a single strip's figures may take beyond a short piece, mm.
const widestRoll = 260

// listWidth is the width of the table on one surface, mm.
const listWidth = 190

// whole lays everything out on one surface without joins.
func (m *maker) whole(deep float64) (Page, error) {
	bands := m.bands(deep)
	width, height := float64(widestRoll), 0.0
	const gap = 8
	for _, b := range bands {
		left, right := b.room()
		need := math.Max(widestRoll, left+m.pattern.Length+right)
		if err := b.arrange(cut(m.pattern.Length, left, right, need, nil, 1), need); err != nil {
			return Page{}, err
		}
		width = math.Max(width, need)
		height += b.height() + gap
	}
	lists := m.blocks(listWidth)
	for _, b := range lists {
		height += b.height
	}
	if len(lists) > 0 {
		height += gap
	}
	l := m.layout(1, 1)
	l.width, l.height = width+2*margin+sideRoom, math.Max(height, 60)+2*margin
	l.height += l.head() + l.foot()
	at, _, _ := l.content()
	p := plan{layout: l, sheet: "Full size", draw: func(s Surface) {
		y := at.Y
		for _, b := range bands {
			b.draw(s, Point{at.X, y}, 0)
			y += b.height() + gap
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
