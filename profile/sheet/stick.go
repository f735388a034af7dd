package sheet

import (
	"math"

	"spindlestick/profile"
)

// stick is the story stick: a strip whose lower edge lies against the work, with a lip that hooks over the blank's end.
type stick struct {
	pattern  profile.Pattern
	stations []profile.Station
	named    map[int]bool // elements with a crest, bottom or inflection of their own
	units    profile.Unit
	scale    float64 // of the radii in the small profile
	depth    float64 // of the small profile, mm
	tiles    []tile
	ladders  []*ladder
	lead     float64
	heights  []float64
}

const (
	hookRoom    = 15  // left of the hook end: the lip and its words, mm
	endRoom     = 8   // right of the far end, mm
	lipWidth    = 8   // mm
	lipDrop     = 5   // how far the lip reaches over the working edge, mm
	joinHead    = 4.5 // above a strip: the joins' letters, mm
	wordBand    = 3.8 // between the small profile and the leaders: kinds written level, mm
	maxProfile  = 11  // the small profile's depth at most, mm
	overProfile = 1.2 // air over the small profile, mm
)

func newStick(p profile.Pattern, o Options) *stick {
	round, square := p.Largest()
	r := math.Max(round, square) / 2
	scale := math.Min(1, maxProfile/r)
	st := stationsOf(p)
	return &stick{pattern: p, stations: st, named: named(st), units: o.Units, scale: scale, depth: scale * r}
}

func (k *stick) name() string                { return "Story stick" }
func (k *stick) room() (left, right float64) { return hookRoom, endRoom }

// arrange lays out the figures for a division into tiles.
func (k *stick) arrange(tiles []tile, room float64) error {
	k.tiles, k.ladders, k.lead, k.heights = tiles, nil, 0, make([]float64, 4)
	for _, t := range tiles {
		l, err := newLadder(owned(k.stations, t), k.rows(t), k.low(t), high(t, room))
		if err != nil {
			return err
		}
		k.ladders = append(k.ladders, l)
		k.lead = math.Max(k.lead, l.lead())
		for i, h := range l.heights() {
			k.heights[i] = math.Max(k.heights[i], h)
		}
	}
	return nil
}

// low and high are how far figures may go to either side: to the joins, or over the piece's ends.
func (k *stick) low(t tile) float64 {
	if t.Number == 1 {
		return -3.6
	}
	return t.Left + 1
}

func high(t tile, room float64) float64 {
	if t.Number == t.Of {
		return t.From + room
	}
	return t.Right - 1
}

// owned returns the stations whose figures stand on a tile.
func owned(stations []profile.Station, t tile) []float64 {
	var out []float64
	for _, s := range stations {
		if t.owns(s.X) {
			out = append(out, s.X)
		}
	}
	return out
}

func (k *stick) rows(t tile) []row {
	diameter := row{caps: []float64{5, 3.6, 2.5}, bold: true, reach: 27}
	word := row{caps: []float64{2}}
	distance := row{caps: []float64{2.3}}
	number := row{caps: []float64{1.8}, flat: true}
	for i, s := range k.stations {
		if !t.owns(s.X) {
			continue
		}
		diameter.texts = append(diameter.texts, sizes(k.pattern, s, k.units))
		word.texts = append(word.texts, k.word(i, t))
		distance.texts = append(distance.texts, figure(s.X, k.units))
		number.texts = append(number.texts, ordinal(i))
	}
	return []row{diameter, word, distance, number}
}

// word is the kind that stands with station i: at the crest or bottom of an element that has one, else where the
// element starts, unless it is long enough to carry its word itself.
func (k *stick) word(i int, t tile) string {
	s := k.stations[i]
	if s.Element >= len(k.pattern.Elements) {
		return "far end"
	}
	e := k.pattern.Elements[s.Element]
	if s.Role == profile.Edge && (k.named[s.Element] || k.carries(s.Element, t)) {
		return ""
	}
	return string(e.Kind)
}

// carries reports whether an element's word can be written level between its stations on this tile.
func (k *stick) carries(i int, t tile) bool {
	if k.named[i] {
		return false
	}
	e := k.pattern.Elements[i]
	lo, hi := math.Max(e.X0, t.Left), math.Min(e.X1, t.Right)
	return hi-lo > textWidth(string(e.Kind), wordCap)+2
}

const wordCap = 2.2 // height of words on a strip, mm

func (k *stick) height() float64 {
	return joinHead + tall(k.lead, k.heights) + wordBand + k.depth + overProfile + lipDrop
}

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
		drawLip(s, x, top, edge)
	}
	drawJoins(s, x, at.Y, edge+2, t)
	k.drawLegend(s, x, edge+3.4, t)
}

// legend explains the strip's marks; the first stands on every strip, the others where there is room.
func legend() []string {
	return []string{
		"this edge against the work", "broken lines: crests and bottoms", "a → b: a step, hook end's side first",
		"□ side of a square", "hatched: worn, hidden or inferred",
	}
}

func (k *stick) drawLegend(s Surface, x, y float64, t tile) {
	from, to := math.Max(0, t.Left)+3, math.Min(t.To, t.Right)
	for _, words := range legend() {
		w := Text{At: Point{x + from, y}, S: words, Cap: 1.7, Grey: 0.3, Layer: Lettered}
		if from+w.Width() > to {
			return
		}
		s.Write(w)
		from += w.Width() + 6
	}
}

// rightmost is how far the strip must go so that all its figures stand on it.
func (l *ladder) rightmost(t tile) float64 {
	right := t.To
	if n := len(l.at); n > 0 && t.Number == t.Of {
		right = math.Max(right, l.at[n-1]+l.width(n-1, l.size[n-1])/2+1.5)
	}
	return right
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

// drawLip draws the piece that hooks over the blank's end; its right side is station 0.
func drawLip(s Surface, x, top, edge float64) {
	bar(s, x-lipWidth, edge-10, x, edge+lipDrop, 0.25, Furnish)
	up := quarterTurn
	words := Text{S: "HOOK THIS END", Cap: 2.5, Bold: true, Turn: up, Layer: Lettered}
	words.At = Point{x - hookRoom + 6.2, edge - 13}
	s.Write(words)
	words.S, words.At.X = "OVER THE BLANK", words.At.X+4
	s.Write(words)
}
