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
	beforeHook  = 3.6 // how far figures may stand left of the hook end, mm: half the largest
	hookFoot    = 13  // over the working edge: where the words over the lip begin, mm
	endRoom     = 8   // right of the far end, mm
	lipWidth    = 8   // mm
	lipDrop     = 4.5 // how far the lip reaches over the working edge, mm
	joinHead    = 4   // above a strip: the joins' letters, mm
	wordBand    = 3.8 // between the small profile and the leaders: kinds written level, mm
	maxProfile  = 9.5 // the small profile's depth at most, mm
	overProfile = 1.2 // air over the small profile, mm
)

// newStick lays out a stick whose small profile is at most deep mm deep; the stations stand at full size always.
func newStick(p profile.Pattern, o Options, deep float64) *stick {
	r := reach(p)
	scale := math.Min(1, deep/r)
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
		return -beforeHook
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
	word := row{caps: []float64{1.9}}
	distance := row{caps: []float64{2.1}}
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

// height is a strip's: what its figures take, or at least what the words over the lip do.
func (k *stick) height() float64 {
	body := tall(k.lead, k.heights) + wordBand + k.depth + overProfile
	for _, w := range hookWords() {
		body = math.Max(body, hookFoot+w.Width()+1)
	}
	return joinHead + body + lipDrop
}

// rightmost is how far the strip must go so that all its figures stand on it.
func (l *ladder) rightmost(t tile) float64 {
	right := t.To
	if n := len(l.at); n > 0 && t.Number == t.Of {
		right = math.Max(right, l.at[n-1]+l.width(n-1, l.size[n-1])/2+1.5)
	}
	return right
}
