package sizing

import (
	"math"
	"sort"

	"spindlestick/profile"
)

// Place says what a sizing cut sizes.
type Place string

// The places of sizing cuts.
const (
	AtMark Place = "mark"   // beside a mark, in the element that the cut belongs to
	Across Place = "across" // a whole narrow level element
	Top    Place = "top"    // a bead's crest, over its whole width
	Crest  Place = "crest"  // the highest point of a swelling
	Bottom Place = "bottom" // the lowest point of a hollow
)

// Cut is a sizing cut with parting tool and calipers. Stations are mm from the hook end.
type Cut struct {
	Mark     float64 // the station whose diameter is sized
	From, To float64 // what the tool takes; the mark's downhill side, or across it at a crest or bottom
	Place    Place
	Element  int     // that it belongs to
	Finished float64 // diameter at the mark when the piece is done, mm
	Diameter float64 // to size to, mm: with the allowance, and nowhere under the finished shape
	Setting  int     // of the calipers that it is made with, an index of the settings
	Narrow   bool    // there is less room than the parting tool's width: take a narrower one
}

// Middle is the middle of what the tool takes.
func (c Cut) Middle() float64 { return (c.From + c.To) / 2 }

// Point is a mark where the wood rises on both sides, so that no parting tool fits: the skew's point sets it in.
type Point struct{ X, Diameter float64 }

// sizer gathers the sizing cuts of a pattern.
type sizer struct {
	p    profile.Pattern
	o    Options
	cuts []Cut
}

// Cuts returns the sizing cuts from the hook end on, with the settings of the calipers that serve them, and the marks that
// no tool can size. A negative allowance counts as the usual one: the cuts are the same, whatever is written beside them.
func Cuts(p profile.Pattern, o Options) ([]Cut, []Setting, []Point) {
	s := sizer{p: p, o: o.withDefaults()}
	for i, e := range p.Elements {
		s.element(i, e)
	}
	sort.SliceStable(s.cuts, func(a, b int) bool { return s.cuts[a].Middle() < s.cuts[b].Middle() })
	s.dropTwins()
	return s.cuts, settings(s.cuts, s.o.Group), s.points()
}

func (s *sizer) element(i int, e profile.Element) {
	roomy := e.Length() >= 2*s.o.Tool
	switch e.Kind {
	case profile.Square, profile.Shoulder, profile.Vee:
	case profile.Fillet, profile.Cylinder:
		if !roomy {
			s.add(i, Across, (e.X0+e.X1)/2, e.X0, e.X1)
			return
		}
		s.ends(i, e, roomy)
	case profile.Bead, profile.HalfBead:
		s.bead(i, e)
	case profile.Cove, profile.HalfCove, profile.Taper, profile.Swell, profile.Ogee:
		s.ends(i, e, roomy)
		s.between(i, e)
	}
}

// bead sizes the top that the bead is rolled from, over its whole width.
func (s *sizer) bead(i int, e profile.Element) {
	at, top := e.X0, 0.0
	for _, x := range Turns(e) {
		if d := e.At(x); d > top {
			at, top = x, d
		}
	}
	s.add(i, Top, at, e.X0, e.X1)
}

// ends sizes both ends of an element where its own shape leaves room for the tool; a short one at its larger end.
func (s *sizer) ends(i int, e profile.Element, roomy bool) {
	w := math.Min(s.o.Tool, e.Length())
	if roomy || e.D0 >= e.D1 {
		s.end(i, e.X0, e.X0, e.X0+w)
	}
	if roomy || e.D1 > e.D0 {
		s.end(i, e.X1, e.X1-w, e.X1)
	}
}

// end takes a cut beside a mark unless the element rises so fast there that the cut would stand further off than the
// allowance.
func (s *sizer) end(i int, mark, from, to float64) {
	e := s.p.Elements[i]
	if Highest(e, from, to) <= e.At(mark)+s.o.Allowance {
		s.add(i, AtMark, mark, from, to)
	}
}

// between sizes the crests and bottoms inside an element.
func (s *sizer) between(i int, e profile.Element) {
	at := Turns(e)
	for _, x := range at[1 : len(at)-1] {
		place := Crest
		if e.At(x) < math.Max(e.D0, e.D1) {
			place = Bottom
		}
		from, to := math.Max(e.X0, x-s.o.Tool/2), math.Min(e.X1, x+s.o.Tool/2)
		s.add(i, place, x, from, to)
	}
}

func (s *sizer) add(i int, place Place, mark, from, to float64) {
	e := s.p.Elements[i]
	c := Cut{Mark: mark, From: from, To: to, Place: place, Element: i, Finished: e.At(mark), Narrow: to-from < s.o.Tool-equal}
	keep := s.o.Allowance
	if place == Top {
		keep, c.Narrow = s.o.Sanding, false // a bead is rolled from its own top: nothing is turned off the crest
	}
	c.Diameter = math.Max(c.Finished+keep, Highest(e, from, to)+s.o.Sanding)
	s.cuts = append(s.cuts, c)
}

// dropTwins keeps one of two cuts that lie on both sides of a mark and size the same diameter: the downhill one.
func (s *sizer) dropTwins() {
	var out []Cut
	for _, c := range s.cuts {
		n := len(out)
		if n == 0 || !twins(out[n-1], c) {
			out = append(out, c)
			continue
		}
		if s.ahead(c, out[n-1]) {
			out[n-1] = c
		}
	}
	s.cuts = out
}

// twins reports whether two cuts meet at a mark and size the same there.
func twins(a, b Cut) bool {
	meet := a.Element != b.Element && math.Abs(a.To-b.From) < equal
	return meet && sizesMark(a) && sizesMark(b) && math.Abs(a.Finished-b.Finished) <= equal
}

func sizesMark(c Cut) bool { return c.Place == AtMark || c.Place == Across }

// deepCut is how much nearer to the axis the wood must lie on one side of a mark that it makes a difference on which side
// one cuts, mm: a shaving or two.
const deepCut = 0.5

// ahead reports whether cut a serves a mark better than its twin b: a narrow level part is cut over its whole width;
// otherwise the one that lies downhill by more than a shaving (Milton & Wohlers), or else that of a level part.
func (s *sizer) ahead(a, b Cut) bool {
	if (a.Place == Across) != (b.Place == Across) {
		return a.Place == Across
	}
	level := func(c Cut) bool {
		k := s.p.Elements[c.Element].Kind
		return k == profile.Fillet || k == profile.Cylinder
	}
	depth := func(c Cut) float64 { return s.p.Elements[c.Element].At(c.Middle()) }
	fall := depth(b) - depth(a)
	if math.Abs(fall) <= deepCut && level(a) != level(b) {
		return level(a)
	}
	return fall > 0
}

// points returns the marks between round parts that no cut reaches and that lie lower than what is beside them.
func (s *sizer) points() []Point {
	var out []Point
	for i := 1; i < len(s.p.Elements); i++ {
		a, b := s.p.Elements[i-1], s.p.Elements[i]
		low := math.Min(a.D1, b.D0)
		if a.Kind == profile.Square || b.Kind == profile.Square || s.reached(b.X0, low) {
			continue
		}
		const near = 0.2 // mm: past the mark, about the width of a pencil line
		if a.At(b.X0-near) > low+flat && b.At(b.X0+near) > low+flat {
			out = append(out, Point{b.X0, low})
		}
	}
	return out
}

// reached reports whether a cut sizes a diameter at a mark.
func (s *sizer) reached(x, d float64) bool {
	for _, c := range s.cuts {
		at := math.Abs(c.From-x) < equal || math.Abs(c.To-x) < equal
		if sizesMark(c) && at && math.Abs(c.Finished-d) <= equal {
			return true
		}
	}
	return false
}
