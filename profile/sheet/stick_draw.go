package sheet

import (
	"fmt"
	"math"

	"spindlestick/profile"
)

// draw draws tile i with its window's left edge and the band's upper edge at a point.
func (k *stick) draw(s Surface, at Point, i int) {
	t := k.tiles[i]
	x := at.X - t.From // station 0
	top := at.Y + joinHead
	edge := at.Y + k.height() - lipDrop
	f := frame{Origin: Point{x, edge}, Scale: k.scale}
	k.drawProfile(s, f, t)
	k.drawStations(s, f, t)
	k.ladders[i].draw(s, rack{X: x, Y: edge - k.depth - overProfile - wordBand, Lead: k.lead, Heights: k.heights}, leaderPen())
	right := k.ladders[i].rightmost(t)
	k.drawBody(s, x, top, edge, t, right)
	if t.Number == 1 {
		drawLip(s, x, edge)
	}
	drawJoins(s, x, at.Y, edge+2, t)
	k.drawLegend(s, x, edge+3.4, t)
}

// legend explains the strip's marks: the edge's use on every strip; the rest on the first, as far as there is room.
func legend() []string {
	return []string{
		"this edge against the work", "broken lines: crests and bottoms", "a → b: a step, hook end's side first",
		"□ side of a square", "hatched: worn, hidden or inferred",
	}
}

func (k *stick) drawLegend(s Surface, x, y float64, t tile) {
	from, to := math.Max(0, t.Left)+3, math.Min(t.To, t.Right)
	words := legend()
	if t.Number > 1 {
		words = []string{words[0], fmt.Sprintf("cut off at %s and lay line %[1]s on line %[1]s of strip %d", joinName(t.Number-1), t.Number-1)}
	}
	for _, words := range words {
		w := Text{At: Point{x + from, y}, S: words, Cap: 1.7, Grey: 0.3, Layer: Lettered}
		if from+w.Width() > to {
			return
		}
		s.Write(w)
		from += w.Width() + 6
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
			s.Write(Text{At: Point{f.Origin.X + (lo+hi)/2, f.Origin.Y - k.depth - overProfile - 1.1}, S: string(e.Kind), Cap: wordCap, Anchor: Middle, Layer: Lettered})
		}
	}
	f.stroke(s, pieces, Pen{Layer: Outline, Width: 0.3})
}

// drawStations draws each station's line from the working edge up, heavy at the edge where a pencil picks it up.
func (k *stick) drawStations(s Surface, f frame, t tile) {
	for _, st := range k.stations {
		if !t.shows(st.X) {
			continue
		}
		x, top := f.Origin.X+st.X, f.Origin.Y-k.depth-overProfile-wordBand
		pen := Pen{Layer: Stations, Width: 0.2}
		if st.Role != profile.Edge {
			pen.Dash = []float64{1.4, 0.7}
		}
		line(s, x, f.Origin.Y, x, top, pen)
		if st.X > 0 { // the lip marks the hook end by itself
			line(s, x, f.Origin.Y, x, f.Origin.Y-3, Pen{Layer: Stations, Width: 0.35})
		}
	}
}

func (k *stick) drawBody(s Surface, x, top, edge float64, t tile, right float64) {
	left := x + t.From
	if t.Number == 1 {
		left = x - hookRoom + 1
	}
	trim := Pen{Layer: Furnish, Width: 0.15, Dash: []float64{3, 1.5}, Grey: 0.4}
	line(s, left, top, x+right, top, trim)
	from := left
	if t.Number == 1 {
		line(s, left, top, left, edge, trim)
		from = x
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

// drawLip draws the piece that hooks over the blank's end; its right side is station 0.
func drawLip(s Surface, x, edge float64) {
	bar(s, x-lipWidth, edge-hookFoot+3, x, edge+lipDrop, 0.25, Furnish)
	for i, w := range hookWords() {
		w.At = Point{x - hookRoom + 6.2 + 4*float64(i), edge - hookFoot}
		s.Write(w)
	}
}
