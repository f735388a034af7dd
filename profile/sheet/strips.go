package sheet

import (
	"math"

	"spindlestick/profile"
)

// strips is what the drawing and the template share: tiles, and ladders of figures over and under the piece.
type strips struct {
	pattern  profile.Pattern
	stations []profile.Station
	named    map[int]bool // elements with a crest, bottom or inflection of their own
	units    profile.Unit
	radius   float64 // the largest half height, mm
	tiles    []tile
	over     ladders
	under    ladders
}

// ladders are the ladders of one side of the piece, one a tile, with what they have in common.
type ladders struct {
	each    []*ladder
	lead    float64
	heights []float64
}

func newStrips(p profile.Pattern, o Options) strips {
	st := Numbered(p)
	return strips{pattern: p, stations: st, named: named(st), units: o.Units, radius: reach(p)}
}

func (s *strips) room() (left, right float64) { return 9, 9 }

// add lays out one tile's ladder and keeps the common heights.
func (l *ladders) add(want []float64, rows []row, lo, hi float64) error {
	n, err := newLadder(want, rows, lo, hi)
	if err != nil {
		return err
	}
	l.each = append(l.each, n)
	l.lead = math.Max(l.lead, n.lead())
	if l.heights == nil {
		l.heights = make([]float64, len(rows))
	}
	for i, h := range n.heights() {
		l.heights[i] = math.Max(l.heights[i], h)
	}
	return nil
}

func (l *ladders) tall() float64 { return tall(l.lead, l.heights) }

// bounds are how far figures may go to either side on a tile.
func (s *strips) bounds(t tile, room float64) (lo, hi float64) {
	lo = t.From
	if t.Number > 1 {
		lo = t.Left + 1
	}
	return lo, high(t, room)
}

// distances are the rows with the running distance from the hook end and the station's number.
func (s *strips) distances(t tile) []row {
	distance := row{caps: []float64{2.3}}
	number := row{caps: []float64{1.8}, flat: true}
	for i, st := range s.stations {
		if t.owns(st.X) {
			distance.texts = append(distance.texts, figure(st.X, s.units))
			number.texts = append(number.texts, ordinal(i))
		}
	}
	return []row{distance, number}
}

// diameters are the rows with the diameters, and what else there is to say of the elements.
func (s *strips) diameters(t tile) []row {
	diameter := row{caps: []float64{3, 2.5}, bold: true}
	words := row{caps: []float64{2}}
	for i, st := range s.stations {
		if t.owns(st.X) {
			diameter.texts = append(diameter.texts, sizes(s.pattern, st, s.units))
			words.texts = append(words.texts, s.words(i))
		}
	}
	return []row{diameter, words}
}

// words are the remark of an element, at its crest, bottom or inflection if it has one, else at its start.
func (s *strips) words(i int) string {
	st := s.stations[i]
	if st.Element >= len(s.pattern.Elements) {
		return ""
	}
	if st.Role == profile.Edge && s.named[st.Element] {
		return ""
	}
	return remark(s.pattern.Elements[st.Element], s.units)
}

// extension draws a thin line from the outline at each station to its leader's foot at y.
func (s *strips) extension(out Surface, f frame, t tile, y float64) {
	pen := leaderPen()
	for _, st := range s.stations {
		if !t.owns(st.X) {
			continue
		}
		x := f.Origin.X + st.X
		r := s.halfAt(st)
		line(out, x, f.at(st.X, r).Y, x, y, pen)
	}
}

// halfAt is the smaller of the outline's half heights at a station, mm, so that an extension line reaches the wood.
func (s *strips) halfAt(st profile.Station) float64 {
	r := math.Inf(1)
	if st.Element < len(s.pattern.Elements) {
		r = half(s.pattern.Elements[st.Element], st.X)
	}
	if st.Role == profile.Edge && st.Element > 0 {
		r = math.Min(r, half(s.pattern.Elements[st.Element-1], st.X))
	}
	return r
}

// axis draws the centre line across a tile.
func (s *strips) axis(out Surface, f frame, t tile) {
	x0 := math.Max(t.From, -6)
	x1 := math.Min(t.To, s.pattern.Length+6)
	line(out, f.Origin.X+x0, f.Origin.Y, f.Origin.X+x1, f.Origin.Y, Pen{Layer: Centre, Width: 0.13, Dash: []float64{8, 1.2, 1.2, 1.2}})
}

func (s *strips) visible(t tile) (lo, hi float64) {
	return math.Max(t.From, 0), math.Min(t.To, s.pattern.Length)
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
