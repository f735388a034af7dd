package sheet

import (
	"math"

	"spindlestick/profile"
)

// template is the half profile at full size, to be glued to card or thin board and cut out along its outline.
type template struct{ strips }

func newTemplate(p profile.Pattern, o Options) *template { return &template{newStrips(p, o)} }

func (p *template) name() string { return "Half template" }

func (p *template) arrange(tiles []tile, room float64) error {
	p.tiles, p.under = tiles, ladders{}
	for _, t := range tiles {
		lo, hi := p.bounds(t, room)
		if err := p.under.add(owned(p.stations, t), p.distances(t), lo, hi); err != nil {
			return err
		}
	}
	return nil
}

const (
	templateEdge = 14 // of the sheet beyond the largest half height, mm: what remains to hold the hollow half by
	templateFoot = 4  // under the axis, before the leaders, mm
)

func (p *template) height() float64 {
	return joinHead + templateEdge + p.radius + templateFoot + p.under.tall() + 2
}

func (p *template) draw(s Surface, at Point, i int) {
	t := p.tiles[i]
	top := at.Y + joinHead
	f := frame{Origin: Point{at.X - t.From, top + templateEdge + p.radius}, Scale: 1}
	lo, hi := p.visible(t)
	pieces := clipped(outline(p.pattern), lo, hi)
	for _, e := range p.pattern.Elements {
		if a, b := math.Max(e.X0, lo), math.Min(e.X1, hi); uncertain(e.State) && a < b {
			hatch(s, f, e, a, b)
		}
	}
	f.stroke(s, pieces, Pen{Layer: Outline, Width: 0.5})
	p.axis(s, f, t)
	p.marks(s, f, t)
	p.card(s, f.Origin.X, top, f.Origin.Y, t)
	y := f.Origin.Y + templateFoot
	p.under.each[i].draw(s, rack{X: f.Origin.X, Y: y, Down: true, Lead: p.under.lead, Heights: p.under.heights}, leaderPen())
	drawJoins(s, f.Origin.X, at.Y, at.Y+p.height()-4, t)
	left := f.Origin.X + math.Max(lo, math.Max(0, t.Left)) + 3
	for k, words := range []string{"Cut along the heavy line. The upper part fits over the turning, the lower part is the turning.", "Stop the lathe before you hold it to the work."} {
		s.Write(cutTo(Text{At: Point{left, top + 4 + 3.4*float64(k)}, S: words, Cap: 2, Layer: Lettered}, math.Min(t.To, t.Right)-(left-f.Origin.X)-3))
	}
}

// marks draws each station from the axis to the outline, so that the template and the work can be laid side by side.
func (p *template) marks(s Surface, f frame, t tile) {
	for _, st := range p.stations {
		if !t.shows(st.X) {
			continue
		}
		pen := Pen{Layer: Stations, Width: 0.15}
		if st.Role != profile.Edge {
			pen.Dash = []float64{1.4, 0.7}
		}
		x, r := f.Origin.X+st.X, p.halfAt(st)
		line(s, x, f.Origin.Y+1, x, f.at(st.X, r).Y, pen)
		if t.owns(st.X) {
			line(s, x, f.Origin.Y+1, x, f.Origin.Y+templateFoot, leaderPen())
		}
	}
}

// card draws the edges of the piece of card that the hollow half remains on.
func (p *template) card(s Surface, x, top, axis float64, t tile) {
	trim := Pen{Layer: Furnish, Width: 0.15, Dash: []float64{3, 1.5}, Grey: 0.4}
	lo, hi := math.Max(t.From, -6), math.Min(t.To, p.pattern.Length+6)
	line(s, x+lo, top, x+hi, top, trim)
	if t.Number == 1 {
		line(s, x+lo, top, x+lo, axis, trim)
	}
	if t.Number == t.Of {
		line(s, x+hi, top, x+hi, axis, trim)
	}
}
