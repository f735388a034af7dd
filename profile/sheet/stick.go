package sheet

import (
	"errors"
	"math"

	"spindlestick/profile"
)

// stick is the story stick: a strip whose lower edge lies against the work, with a lip that hooks over the blank's end.
// Where the figures crowd it has two faces, folded at that edge; every second station is lettered on the other one.
type stick struct {
	pattern   profile.Pattern
	stations  []profile.Station
	settings  []setting
	named     map[int]bool // elements with a crest, bottom or inflection of their own
	units     profile.Unit
	hook      float64 // of the blank before station 1, mm
	allowance float64 // negative = no sizing diameters
	scale     float64 // of the radii in the small profile
	depth     float64 // of the small profile, mm
	tiles     []tile
	wide      float64     // room for a tile, mm
	faces     [][]*ladder // one or two, a ladder for each tile
	lead      float64
	heights   []float64
}

const (
	hookRoom    = 15  // left of the hook: the lip and its words, mm
	beforeHook  = 3.6 // how far figures may stand left of the hook, mm: half the largest
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
	st := Numbered(p)
	return &stick{
		pattern: p, stations: st, settings: settings(p, st, o), named: named(st), units: o.Units,
		hook: o.Hook, allowance: o.Allowance, scale: scale, depth: scale * r,
	}
}

func (k *stick) name() string                { return "Story stick" }
func (k *stick) room() (left, right float64) { return hookRoom + k.hook, endRoom }

// crowd is how far from its station a figure may stand before the stick gets a second face, mm: the eye loses a leader
// that is longer.
const crowd = 12

// arrange lays out the figures for a division into tiles, on one face if they find room there, else on two.
func (k *stick) arrange(tiles []tile, room float64) error {
	k.tiles, k.wide = tiles, room
	err := k.arrangeOn(1, room)
	if err == nil && k.farthest() <= crowd || err != nil && !errors.Is(err, ErrCrowded) {
		return err
	}
	return k.arrangeOn(2, room)
}

func (k *stick) farthest() float64 {
	far := 0.0
	for _, ladders := range k.faces {
		for _, l := range ladders {
			far = math.Max(far, l.farthest())
		}
	}
	return far
}

func (k *stick) arrangeOn(faces int, room float64) error {
	k.faces, k.lead, k.heights = make([][]*ladder, faces), 0, nil
	for face := range k.faces {
		for _, t := range k.tiles {
			on := k.lettered(t, face)
			l, err := newLadder(k.places(on), k.rows(on, t), k.low(t), high(t, room))
			if err != nil {
				return err
			}
			k.faces[face] = append(k.faces[face], l)
			k.lead = math.Max(k.lead, l.lead())
			k.heights = highest(k.heights, l.heights())
		}
	}
	return nil
}

// highest returns the larger of two lists' heights, row by row; the first may be empty.
func highest(a, b []float64) []float64 {
	if a == nil {
		a = make([]float64, len(b))
	}
	for i, h := range b {
		a[i] = math.Max(a[i], h)
	}
	return a
}

// low and high are how far figures may go to either side: to the joins, or over the piece's ends.
func (k *stick) low(t tile) float64 {
	if t.Number == 1 {
		return -beforeHook - k.hook
	}
	return t.Left + 1
}

func high(t tile, room float64) float64 {
	if t.Number == t.Of {
		return t.From + room
	}
	return t.Right - 1
}

// lettered returns the stations whose figures stand on a tile of a face.
func (k *stick) lettered(t tile, face int) []int {
	var out []int
	for i, s := range k.stations {
		if t.owns(s.X) && i%len(k.faces) == face {
			out = append(out, i)
		}
	}
	return out
}

func (k *stick) places(on []int) []float64 {
	var out []float64
	for _, i := range on {
		out = append(out, k.stations[i].X)
	}
	return out
}

func (k *stick) rows(on []int, t tile) []row {
	diameter := row{caps: []float64{5, 3.6, 2.5}, bold: true, reach: 27}
	sizing := row{caps: []float64{2.2}}
	word := row{caps: []float64{1.7}}
	distance := row{caps: []float64{2.1}}
	number := row{caps: []float64{1.8}, flat: true}
	for _, i := range on {
		s := k.stations[i]
		diameter.texts = append(diameter.texts, sizes(k.pattern, s, k.units))
		sizing.texts = append(sizing.texts, k.sizing(i))
		word.texts = append(word.texts, k.word(i, t))
		distance.texts = append(distance.texts, figure(s.X, k.units))
		number.texts = append(number.texts, ordinal(i))
	}
	return []row{diameter, sizing, word, distance, number}
}

// sizing is what the calipers are set to at station i, and the letter of stations that share the setting.
func (k *stick) sizing(i int) string {
	return k.settings[i].written(k.allowance, func(mm float64) string { return figure(mm, k.units) })
}

// word is the kind that stands with station i: at the crest or bottom of an element that has one, else where the
// element starts, unless it is long enough to carry its word itself.
func (k *stick) word(i int, t tile) string {
	s := k.stations[i]
	if s.Element >= len(k.pattern.Elements) {
		return "far end"
	}
	if s.Role == profile.Edge && (k.named[s.Element] || k.carries(s.Element, t)) {
		return ""
	}
	return k.pattern.Word(s.Element)
}

// carries reports whether an element's word can be written level between its stations on this tile.
func (k *stick) carries(i int, t tile) bool {
	if k.named[i] {
		return false
	}
	e := k.pattern.Elements[i]
	lo, hi := math.Max(e.X0, t.Left), math.Min(e.X1, t.Right)
	return hi-lo > textWidth(k.pattern.Word(i), wordCap)+2
}

const wordCap = 2.2 // height of words on a strip, mm

// face is how far a face goes up from the working edge: what its figures take, or at least the words over the lip.
func (k *stick) face() float64 {
	body := tall(k.lead, k.heights) + wordBand + k.depth + overProfile
	for _, w := range hookWords() {
		body = math.Max(body, hookFoot+w.Width()+1)
	}
	return body
}

// height is a strip's, with the line of words under it.
func (k *stick) height() float64 { return joinHead + float64(len(k.faces))*k.face() + lipDrop }

// rightmost is how far the strip must go so that all its figures stand on it.
func (k *stick) rightmost(i int) float64 {
	t := k.tiles[i]
	right := t.To
	for _, ladders := range k.faces {
		l := ladders[i]
		if n := len(l.at); n > 0 && t.Number == t.Of {
			right = math.Max(right, l.at[n-1]+l.width(n-1, l.size[n-1])/2+1.5)
		}
	}
	return right
}
