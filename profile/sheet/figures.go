package sheet

import (
	"fmt"
	"math"
	"strconv"

	"spindlestick/profile"
)

// figure writes a length for the bench: to 0.1 mm, 0.001 in or 1/64 in. A tenth is what calipers are set to on wood.
func figure(mm float64, u profile.Unit) string {
	if u == profile.MM {
		return strconv.FormatFloat(mm, 'f', 1, 64)
	}
	return profile.FormatLength(mm, u)
}

// stepTolerance is how far two diameters at a station must differ to be told apart, mm: less than that prints as the
// same tenth, or the next.
const stepTolerance = 0.1

// flatSign marks the side of a square, where a bare figure is a diameter.
const flatSign = "□ "

// oneLine is how close a crest or bottom may lie to the end of its element and still be the same line on a stick, mm:
// the width of a scribed line.
const oneLine = 0.1

// Numbered returns the stations that the sheets number, from 1, in order: those of the pattern, without crests and bottoms
// that fall onto an end of their element.
func Numbered(p profile.Pattern) []profile.Station {
	var out []profile.Station
	for _, s := range p.Stations() {
		if s.Role != profile.Edge {
			e := p.Elements[s.Element]
			if s.X-e.X0 < oneLine && sameFigure(s.Before, e.D0) || e.X1-s.X < oneLine && sameFigure(s.Before, e.D1) {
				continue
			}
		}
		out = append(out, s)
	}
	return out
}

// named returns the elements that have a station of their own between their ends.
func named(stations []profile.Station) map[int]bool {
	out := map[int]bool{}
	for _, s := range stations {
		if s.Role != profile.Edge {
			out[s.Element] = true
		}
	}
	return out
}

func sameFigure(a, b float64) bool { return math.Abs(a-b) < oneLine }

// aspect is what is measured on one side of a station.
type aspect struct {
	size  float64 // a diameter, or the side of a square, mm
	flat  bool    // it is the side of a square
	there bool    // false outside the piece
}

func (a aspect) written(write func(mm float64) string) string {
	switch {
	case !a.there:
		return ""
	case a.flat:
		return flatSign + write(a.size)
	}
	return write(a.size)
}

// sides returns what is measured on either side of a station, the hook end's side first. Beside a square a shoulder
// counts as the square it is cut from: its size there is the square's side.
func sides(p profile.Pattern, st profile.Station) (before, after aspect) {
	if st.Role != profile.Edge {
		d := aspect{size: st.Diameter(), there: true}
		return d, d
	}
	look := func(i int, d float64, atSquare bool) aspect {
		if i < 0 || i >= len(p.Elements) {
			return aspect{}
		}
		e := p.Elements[i]
		if s := side(e); s > 0 && (e.Kind == profile.Square || e.Kind == profile.Shoulder && atSquare) {
			return aspect{s, true, true}
		}
		return aspect{d, false, true}
	}
	i := st.Element
	return look(i-1, st.Before, kindAt(p, i) == profile.Square), look(i, st.After, kindAt(p, i-1) == profile.Square)
}

// measures writes what is measured on either side of a station; empty outside the piece.
func measures(p profile.Pattern, st profile.Station, write func(mm float64) string) (before, after string) {
	b, a := sides(p, st)
	return b.written(write), a.written(write)
}

func kindAt(p profile.Pattern, i int) profile.Kind {
	if i < 0 || i >= len(p.Elements) {
		return ""
	}
	return p.Elements[i].Kind
}

// sizes writes the diameter of a station, or both where there is a shoulder.
func sizes(p profile.Pattern, st profile.Station, u profile.Unit) string {
	before, after := measures(p, st, func(mm float64) string { return figure(mm, u) })
	switch {
	case before == "" || before == after:
		return after
	case after == "":
		return before
	case !st.Step(stepTolerance):
		return figure(st.Diameter(), u)
	}
	return before + " → " + after
}

func degrees(rad float64) string { return strconv.FormatFloat(rad*180/math.Pi, 'f', 1, 64) + "°" }

// remark says in words and figures what an element's two ends do not: its kind, radius, angle or side.
func remark(e profile.Element, u profile.Unit) string {
	word := string(e.Kind)
	segs := e.Segments()
	switch {
	case e.Kind == profile.Square:
		return word + " " + figure(side(e), u)
	case e.Kind == profile.Vee, e.Kind == profile.Taper:
		return word + " " + degrees(e.Angle())
	case len(segs) == 1 && !segs[0].Straight():
		return word + " R " + figure(segs[0].Radius(), u)
	case len(segs) == 2 && !segs[0].Straight() && !segs[1].Straight():
		return fmt.Sprintf("%s R %s, R %s", word, figure(segs[0].Radius(), u), figure(segs[1].Radius(), u))
	}
	return word
}

// side is the side of a square or of a shoulder's square, mm; 0 where it is not known.
func side(e profile.Element) float64 {
	if e.Side > 0 {
		return e.Side
	}
	if e.Kind == profile.Square {
		return math.Max(e.D0, e.D1)
	}
	return 0
}
