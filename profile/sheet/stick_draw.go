package sheet

import (
	"math"

	"spindlestick/profile"
)

// draw draws tile i with its window's left edge and the band's upper edge at a point.
func (k *stick) draw(s Surface, at Point, i int) {
	t := k.tiles[i]
	x := at.X - t.From // station 0
	edge := at.Y + joinHead + k.face()
	for face := range k.faces {
		on := s
		if face > 0 {
			on = folded{s, edge}
		}
		k.drawFace(on, Point{x, edge}, i, face)
	}
	bottom := edge
	if len(k.faces) > 1 {
		bottom += k.face()
	}
	drawJoins(s, x, at.Y, bottom+2, t)
	k.drawLegend(s, x, bottom+3.4, t)
}

// drawFace draws a face upwards from the working edge; origin is station 0 on that edge.
func (k *stick) drawFace(s Surface, origin Point, i, face int) {
	t := k.tiles[i]
	f := frame{Origin: origin, Scale: k.scale}
	k.drawProfile(s, f, t)
	k.drawHook(s, f, t)
	k.drawStations(s, f, t, face)
	k.faces[face][i].draw(s, rack{X: origin.X, Y: origin.Y - k.depth - overProfile - wordBand, Lead: k.lead, Heights: k.heights}, leaderPen())
	k.drawBody(s, origin, t, k.rightmost(i))
	if t.Number == 1 {
		k.drawLip(s, origin.X-k.hook, origin.Y)
	}
}

func (k *stick) drawProfile(s Surface, f frame, t tile) {
	pieces := clipped(outline(k.pattern), math.Max(t.From, 0), math.Min(t.To, k.pattern.Length))
	s.Fill(f.area(pieces), 0.93, Furnish)
	for i, e := range k.pattern.Elements {
		lo, hi := math.Max(e.X0, t.From), math.Min(e.X1, t.To)
		if lo >= hi {
			continue
		}
		if uncertain(e.State) {
			hatch(s, f, e, lo, hi)
		}
		if e.Kind == profile.Square {
			cross(s, f, e, t, 0, half(e, e.X0))
		}
		if k.carries(i, t) {
			lo, hi = math.Max(e.X0, t.Left), math.Min(e.X1, t.Right)
			s.Write(Text{At: Point{f.Origin.X + (lo+hi)/2, f.Origin.Y - k.depth - overProfile - 1.1}, S: k.pattern.Word(i), Cap: wordCap, Anchor: Middle, Layer: Lettered})
		}
	}
	f.stroke(s, pieces, Pen{Layer: Outline, Width: 0.3})
}

// drawHook draws the part of the blank before station 1, which is cut off in the end: dotted, as it is no part of the
// piece.
func (k *stick) drawHook(s Surface, f frame, t tile) {
	lo, hi := math.Max(-k.hook, t.From), math.Min(0, t.To)
	if lo >= hi {
		return
	}
	pen := Pen{Layer: Furnish, Width: 0.2, Dash: []float64{0.4, 0.8}}
	y := f.Origin.Y - k.depth
	line(s, f.Origin.X+lo, y, f.Origin.X+hi, y, pen)
	line(s, f.Origin.X+lo, f.Origin.Y, f.Origin.X+hi, y, pen)
}

// The widths of a station's foot on the stick, mm: heavy where a pencil picks it up.
const (
	footPen  = 0.35
	otherPen = 0.3 // on the other face, where the first has drawn it already
)

// drawStations draws each station's line from the working edge up.
func (k *stick) drawStations(s Surface, f frame, t tile, face int) {
	foot := Pen{Layer: Stations, Width: footPen}
	if face > 0 {
		foot.Width = otherPen
	}
	for i, st := range k.stations {
		if !t.shows(st.X) {
			continue
		}
		x, top := f.Origin.X+st.X, f.Origin.Y-k.depth-overProfile-wordBand
		pen := Pen{Layer: Stations, Width: 0.2}
		if st.Role != profile.Edge {
			pen.Dash = []float64{1.4, 0.7}
		}
		k.drawSide(s, f, t, i)
		line(s, x, f.Origin.Y, x, top, pen)
		if st.X+k.hook > 0 { // the lip marks the hook end by itself
			line(s, x, f.Origin.Y, x, f.Origin.Y-3, foot)
		}
	}
}

func (k *stick) drawBody(s Surface, origin Point, t tile, right float64) {
	x, edge, top := origin.X, origin.Y, origin.Y-k.face()
	left := x + t.From
	if t.Number == 1 {
		left = x - k.hook - hookRoom + 1
	}
	trim := Pen{Layer: Furnish, Width: 0.15, Dash: []float64{3, 1.5}, Grey: 0.4}
	line(s, left, top, x+right, top, trim)
	from := left
	if t.Number == 1 {
		line(s, left, top, left, edge, trim)
		from = x - k.hook
	}
	if t.Number == t.Of {
		line(s, x+right, top, x+right, edge, trim)
	}
	line(s, from, edge, x+right, edge, Pen{Layer: Furnish, Width: 0.3})
}

// hookWords stand over the lip, one beside the other.
func hookWords() []Text {
	first := Text{S: "HOOK THIS END", Cap: 2.5, Bold: true, Turn: quarterTurn, Layer: Lettered}
	second := first
	second.S = "OVER THE BLANK"
	return []Text{first, second}
}

// drawLip draws the piece that hooks over the blank's end, its right side at x. On two faces it goes on over the fold.
func (k *stick) drawLip(s Surface, x, edge float64) {
	drop := lipDrop
	if len(k.faces) > 1 {
		drop = hookFoot - 3
	}
	bar(s, x-lipWidth, edge-hookFoot+3, x, edge+drop, 0.25, Furnish)
	for i, w := range hookWords() {
		w.At = Point{x - hookRoom + 6.2 + 4*float64(i), edge - hookFoot}
		s.Write(w)
	}
}
