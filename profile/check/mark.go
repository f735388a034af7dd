package check

import (
	"math"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// mark is a station with what stands on either side of it.
type mark struct {
	x, ux         float64 // mm; expanded
	role          profile.Role
	before, after face
	number        int  // as the sheets number it; 0 = they do not
	crease        bool // the piece rises on both sides
}

// face is the diameter on one side of a station; ok is false outside the piece.
type face struct {
	reading
	kind    profile.Kind
	element int
	corner  bool // of a square's corners, which calipers for rounds do not take
}

// marks returns the stations of a piece: those of its pattern, or of a trace alone one every plainStep.
func (p Piece) marks() []mark {
	if !p.patterned() {
		return p.plainMarks()
	}
	var out []mark
	numbered, n := sheet.Numbered(p.Pattern), 0
	for _, s := range p.Pattern.Stations() {
		m := mark{x: s.X, ux: s.UX, role: s.Role}
		if n < len(numbered) && numbered[n] == s {
			n++
			m.number = n
		}
		if s.Role == profile.Edge {
			m.before, m.after = p.face(s.Element-1, s.X), p.face(s.Element, s.X)
			m.crease = p.crease(s)
		} else {
			m.before = p.face(s.Element, s.X)
			m.after = m.before
			m.ux = p.placed(s.X)
		}
		out = append(out, m)
	}
	return out
}

// plainStep is the distance of the stations of a piece that has no pattern, mm.
const plainStep = 10.0

func (p Piece) plainMarks() []mark {
	var out []mark
	for x := 0.0; x <= p.length(); x += plainStep {
		if r := p.measured(x); r.ok {
			f := face{reading: r}
			out = append(out, mark{x: x, ux: p.placed(x), role: profile.Edge, before: f, after: f})
		}
	}
	return out
}

// face reads element i at its station x.
func (p Piece) face(i int, x float64) face {
	if i < 0 || i >= len(p.Pattern.Elements) {
		return face{}
	}
	e := p.Pattern.Elements[i]
	seen, miss := p.support(e, x)
	u := math.Sqrt(square(boundAt(e, x)) + square(miss) + square(flank(e, x)))
	corner := e.Kind == profile.Shoulder && (x == e.X0) == (e.D0 > e.D1)
	return face{reading{d: e.At(x), u: u, seen: seen, ok: true}, e.Kind, i, corner}
}

// beside is how far to look beside an edge for a rise, mm: about the width of a pencil line.
const beside = 0.2

// crease reports whether the piece rises on both sides of an edge, so that it lies in a hollow. Faces that do not meet are
// looked at from the lower one.
func (p Piece) crease(s profile.Station) bool {
	if s.Element == 0 || s.Element == len(p.Pattern.Elements) {
		return false
	}
	low := math.Min(s.Before, s.After) + sameStep/10
	return p.Pattern.Elements[s.Element-1].At(s.X-beside) > low && p.Pattern.Elements[s.Element].At(s.X+beside) > low
}

func square(v float64) float64 { return v * v }

const (
	// rimPlace is how well a rim is placed along its own flank at best, mm: sandpaper rounds one by about as much (common
	// practice, no source).
	// What moves all stations together does not count here.
	rimPlace = 0.2
	// steepest holds the slope of a semicircle's end to a number.
	steepest = 10.0
)

// flank is what the place of a measured edge makes of the diameter on a steep element that ends there, mm: on the side
// of a vee or the end of a bead the one is only as good as the other.
func flank(e profile.Element, x float64) float64 {
	ux := 0.0
	switch x {
	case e.X0:
		ux = e.U.X0
	case e.X1:
		ux = e.U.X1
	}
	return 2 * math.Min(steepest, math.Abs(slope(e, x))) * math.Min(ux, rimPlace)
}

// supportReach is how far along its element the trace speaks for a station, mm: the width of a small fillet, so that what
// the rim of a step hides beside it does not make the station unseen.
const supportReach = 3.0

// madSigma makes a median absolute deviation a standard deviation of normal errors.
const madSigma = 1.4826

// support reports whether the trace shows the element near its station x, and how far it leaves the element there:
// an expanded uncertainty of the diameter, mm, from the median of the distances, as the smear of a step beside the
// element is none of its own. Without a trace the pattern stands for itself.
func (p Piece) support(e profile.Element, x float64) (seen bool, miss float64) {
	if !stated(e.State) || !p.traced() || e.Kind == profile.Square || e.Kind == profile.Shoulder {
		return stated(e.State), 0
	}
	var off []float64
	for _, s := range p.Trace.Samples {
		if s.X <= e.X0 || s.X >= e.X1 || math.Abs(s.X-x) > supportReach || s.State != profile.Visible && s.State != "" {
			continue
		}
		off = append(off, math.Abs(s.R-e.At(s.X)/2)/math.Hypot(1, slope(e, s.X)))
	}
	if len(off) == 0 {
		return false, 0
	}
	return true, 4 * madSigma * median(off) // of the diameter: twice; expanded: twice again
}

// slope is dr/dx of the element at x.
func slope(e profile.Element, x float64) float64 {
	segs := e.Segments()
	for _, s := range segs[:len(segs)-1] {
		if x <= s.X1 {
			return s.Slope(x)
		}
	}
	return segs[len(segs)-1].Slope(x)
}
