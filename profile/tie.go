package profile

import (
	"errors"
	"fmt"
	"math"
)

// TieKind says what a tie holds equal.
type TieKind string

// The kinds of tie.
const (
	Equal    TieKind = "equal"   // diameters at several places
	Tangent  TieKind = "tangent" // the meridian runs through a joint without a corner
	Mirrored TieKind = "mirror"  // two groups of elements are each other's mirror image
	Repeated TieKind = "repeat"  // groups of elements are the same
)

// Spot names a diameter of an element.
type Spot string

// The spots of an element.
const (
	NearEnd Spot = "near" // D0
	FarEnd  Spot = "far"  // D1
	Middle  Spot = "mid"  // crest, bottom or inflection
)

// Place is a spot of one element of a pattern.
type Place struct {
	Element int  `json:"element"`
	Spot    Spot `json:"spot"`
}

// Tie is a wish of the user's: these stay equal, so that a correction of one moves its twins. Nothing is tied unasked.
type Tie struct {
	Kind   TieKind `json:"kind"`
	Places []Place `json:"places,omitempty"` // of Equal: two or more
	Joint  int     `json:"joint,omitempty"`  // of Tangent: the element that starts at the joint
	Groups []int   `json:"groups,omitempty"` // of Mirrored (two) and Repeated (two or more): the first element of each
	Count  int     `json:"count,omitempty"`  // the number of elements in a group
}

// tieTolerance is how far what is tied may differ, mm: what arithmetic leaves of numbers set equal, as for stations.
const tieTolerance = joinTolerance

// ErrTied is wrapped by the errors of edits that a tie forbids.
var ErrTied = errors.New("a tie holds it: give up the tie first")

// validate checks that a tie speaks of n elements that are there.
func (t Tie) validate(n int) error {
	bad := fmt.Errorf("a tie (%s) speaks of elements that are not there", t.Kind)
	switch t.Kind {
	case Equal:
		for _, l := range t.Places {
			if l.Element < 0 || l.Element >= n || l.Spot != NearEnd && l.Spot != FarEnd && l.Spot != Middle {
				return bad
			}
		}
		if len(t.Places) < 2 {
			return bad
		}
	case Tangent:
		if t.Joint < 1 || t.Joint >= n {
			return bad
		}
	case Mirrored, Repeated:
		if t.Count < 1 || len(t.Groups) < 2 || t.Kind == Mirrored && len(t.Groups) != 2 {
			return bad
		}
		for i, g := range t.Groups {
			if g < 0 || g > n-t.Count || i > 0 && g < t.Groups[i-1]+t.Count {
				return bad
			}
		}
	default:
		return fmt.Errorf("%q is not a kind of tie", t.Kind)
	}
	return nil
}

// Size returns the diameter at a place, mm; false where there is none.
func (p Pattern) Size(l Place) (float64, bool) {
	if l.Element < 0 || l.Element >= len(p.Elements) {
		return 0, false
	}
	e := p.Elements[l.Element]
	switch l.Spot {
	case NearEnd:
		return e.D0, true
	case FarEnd:
		return e.D1, true
	}
	_, d, ok := e.Mid()
	return d, ok
}

// Holds reports whether what the tie calls equal is so.
func (p Pattern) Holds(t Tie) bool {
	if t.validate(len(p.Elements)) != nil {
		return false
	}
	switch t.Kind {
	case Equal:
		first, ok := p.Size(t.Places[0])
		for _, l := range t.Places[1:] {
			d, there := p.Size(l)
			ok = ok && there && math.Abs(d-first) < tieTolerance
		}
		return ok
	case Tangent:
		return p.smooth(t.Joint)
	}
	for j := range t.Count {
		a := p.Elements[t.Groups[0]+j]
		for g := range t.Groups[1:] {
			if !same(a, t.oriented(p.Elements[t.member(g+1, j)])) {
				return false
			}
		}
	}
	return true
}

// member returns the element of group g that answers to element j of the first group.
func (t Tie) member(g, j int) int {
	if t.Kind == Mirrored && g == 1 {
		return t.Groups[1] + t.Count - 1 - j
	}
	return t.Groups[g] + j
}

// oriented turns an element of the second group of a mirror pair as the first group has it.
func (t Tie) oriented(e Element) Element {
	if t.Kind == Mirrored {
		return e.mirrored(e.X0 + e.X1)
	}
	return e
}

// same reports whether two elements are alike wherever they stand.
func same(a, b Element) bool {
	near := func(u, v float64) bool { return math.Abs(u-v) < tieTolerance }
	inner := !a.hasInner() || near(a.InnerX-a.X0, b.InnerX-b.X0) && near(a.InnerD, b.InnerD)
	return a.Kind == b.Kind && a.Style == b.Style && near(a.Length(), b.Length()) && near(a.D0, b.D0) && near(a.D1, b.D1) &&
		near(a.Sagitta, b.Sagitta) && near(a.Side, b.Side) && inner
}

// hasInner reports whether the element uses its inner point.
func (e Element) hasInner() bool { return e.Kind.Inner() || e.Kind == Shoulder && e.Style == Reversed }

// mirrored returns the element seen from the other end of a piece of length l.
func (e Element) mirrored(l float64) Element {
	m := e
	m.X0, m.X1, m.D0, m.D1 = l-e.X1, l-e.X0, e.D1, e.D0
	m.U.X0, m.U.X1, m.U.D0, m.U.D1 = e.U.X1, e.U.X0, e.U.D1, e.U.D0
	if e.hasInner() {
		m.InnerX = l - e.InnerX
		m.Sagitta = e.Segments()[1].Sagitta // of a vee, none
	}
	return m
}

// onto returns e's shape between the stations of to.
func (e Element) onto(to Element) Element {
	x0, x1 := to.X0, to.X1
	f := e
	f.X0, f.X1, f.U, f.State, f.Residual, f.Roll = x0, x1, to.U, to.State, to.Residual, to.Roll
	if e.hasInner() {
		f.InnerX = x0 + (e.InnerX - e.X0)
	}
	return f
}
