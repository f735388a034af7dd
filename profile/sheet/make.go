package sheet

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"spindlestick/profile"
)

// Make lays out the sheets of a pattern.
func Make(p profile.Pattern, o Options) (Document, error) {
	o, err := o.withDefaults()
	if err != nil {
		return Document{}, err
	}
	if err := p.Validate(); err != nil {
		return Document{}, fmt.Errorf("sheet: %w", err)
	}
	m := maker{pattern: p, options: o, facts: newFacts(p, o)}
	return m.make()
}

// ErrTooWide says that a piece is wider than the paper allows.
var ErrTooWide = errors.New("choose larger paper or a roll")

// band is a sheet that runs along the piece and may be divided into strips.
type band interface {
	name() string
	room() (left, right float64)              // beside the piece's ends, mm
	arrange(tiles []tile, room float64) error // lays the figures out, room mm wide; ErrCrowded when they find none
	height() float64                          // of a strip as arranged, mm
	draw(s Surface, at Point, i int)          // strip i, its left and upper edge at a point
}

// plan is a page before it is known how many there are.
type plan struct {
	layout layout
	sheet  string
	part   *span
	draw   func(s Surface)
}

type maker struct {
	pattern profile.Pattern
	options Options
	facts   facts
	plans   []plan
}

func (m *maker) make() (Document, error) {
	d := Document{Title: printable(m.options.Title), List: listOf(m.pattern, m.options)}
	var err error
	if d.Whole, err = m.whole(math.Inf(1), 1, 1); err != nil {
		return d, err
	}
	if m.options.Paper == Roll {
		roll, err := m.whole(maxProfile, m.options.ScaleX, m.options.ScaleY)
		d.Pages = []Page{roll}
		return d, err
	}
	for _, b := range m.bands(maxProfile) {
		if err := m.tile(b); err != nil {
			return d, err
		}
	}
	if err := m.lists(); err != nil {
		return d, err
	}
	if err := m.record(); err != nil {
		return d, err
	}
	for i, p := range m.plans {
		d.Pages = append(d.Pages, m.page(p, i+1, len(m.plans)))
	}
	return d, nil
}

// bands returns the sheets asked for that run along the piece; the stick's small profile is at most deep mm deep.
func (m *maker) bands(deep float64) []band {
	var out []band
	if m.wants(Stick) {
		out = append(out, newStick(m.pattern, m.options, deep))
	}
	if m.wants(Drawing) {
		out = append(out, newDrawing(m.pattern, m.options))
	}
	if m.wants(Template) {
		out = append(out, newTemplate(m.pattern, m.options))
	}
	return out
}

func (m *maker) wants(s Show) bool { return m.options.Show == s || m.options.Show == All }

func (m *maker) stationPlaces() []float64 {
	var out []float64
	for _, s := range Numbered(m.pattern) {
		out = append(out, s.X)
	}
	return out
}

// notes returns the notes as one line if they fit a page of the width, and whether they do.
func (m *maker) notes(width float64) (string, bool) {
	joined := strings.Join(m.options.Notes, " · ")
	return joined, textWidth(joined, 2) <= width-2*margin
}

// layout lays out a page of paper; its longer side is the one that ScaleX belongs to.
func (m *maker) layout(width, height float64) layout {
	l := layout{sx: m.options.ScaleX, sy: m.options.ScaleY, inches: m.options.Units != profile.MM}
	if width < height {
		l.sx, l.sy = l.sy, l.sx
	}
	l.width, l.height = width/l.sx, height/l.sy
	if notes, ok := m.notes(l.width); ok {
		l.notes = notes
	}
	l.printer = m.options.madeFor()
	return l
}

// mostTiles bounds the search for a division in which all figures find room: far more strips than a piece on any lathe takes.
const mostTiles = 200

// tile divides a band into strips and stacks them on pages, lying if they are low enough for that, else standing.
func (m *maker) tile(b band) error {
	long, short, err := m.options.Paper.sides()
	if err != nil {
		return err
	}
	for _, size := range [][2]float64{{long, short}, {short, long}} {
		l := m.layout(size[0], size[1])
		_, width, height := l.content()
		tiles, err := m.arrange(b, width)
		if err != nil {
			return err
		}
		if b.height() <= height {
			m.stack(b, l, tiles)
			return nil
		}
	}
	return fmt.Errorf("sheet: the %s of a piece %.0f mm across does not fit %s paper: %w", strings.ToLower(b.name()), 2*reach(m.pattern), m.options.Paper, ErrTooWide)
}

// arrange finds the fewest strips on which all figures find room.
func (m *maker) arrange(b band, width float64) ([]tile, error) {
	left, right := b.room()
	for n := 1; ; n++ {
		tiles := cut(m.pattern.Length, left, right, width, m.stationPlaces(), n)
		err := b.arrange(tiles, width)
		if err == nil || !errors.Is(err, ErrCrowded) || len(tiles) >= mostTiles || m.pattern.Length/float64(n) < 4*lap {
			return tiles, err
		}
		n = max(n, len(tiles))
	}
}

// stack puts strips under one another, as many as a page holds.
func (m *maker) stack(b band, l layout, tiles []tile) {
	const gap = 2 // mm between strips
	at, _, height := l.content()
	rows := max(1, int((height+gap)/(b.height()+gap)))
	for first := 0; first < len(tiles); first += rows {
		on := tiles[first:min(first+rows, len(tiles))]
		m.plans = append(m.plans, plan{
			layout: l, sheet: stripName(b, on), part: partOf(on, m.pattern.Length, m.options.Units),
			draw: func(s Surface) {
				for i := range on {
					b.draw(s, Point{at.X, at.Y + float64(i)*(b.height()+gap)}, first+i)
				}
			},
		})
	}
}

func stripName(b band, on []tile) string {
	first, last := on[0], on[len(on)-1]
	switch {
	case first.Of == 1:
		return b.name()
	case first.Number == last.Number:
		return fmt.Sprintf("%s, strip %d of %d", b.name(), first.Number, first.Of)
	}
	return fmt.Sprintf("%s, strips %d to %d of %d", b.name(), first.Number, last.Number, first.Of)
}

// page draws a plan.
func (m *maker) page(p plan, number, of int) Page {
	out := Page{Name: p.sheet, Width: p.layout.width * p.layout.sx, Height: p.layout.height * p.layout.sy}
	s := p.layout.compensated(&out)
	f := m.facts
	f.sheet = p.sheet
	p.layout.furnish(s, f, number, of, p.part)
	p.draw(s)
	return out
}

func (l layout) compensated(p *Page) Surface {
	if l.sx == 1 && l.sy == 1 {
		return p
	}
	return scaled{p, l.sx, l.sy}
}
