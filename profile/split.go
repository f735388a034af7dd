package profile

import (
	"fmt"
	"math"
	"slices"
)

// Split cuts element i in two at station x, both of the same shape as before where the kind allows: a bead gives
// two half-beads, a cove two half-coves, a vee two tapers, an ogee its two arcs when cut anywhere. Its twins are cut too.
func Split(p Pattern, i int, x float64) (Pattern, error) {
	if i < 0 || i >= len(p.Elements) {
		return p, fmt.Errorf("split element %d: %w", i+1, ErrNoElement)
	}
	e := p.Elements[i]
	if !(x >= e.X0+MinElement && x <= e.X1-MinElement) {
		return p, fmt.Errorf("split element %d at %.2f mm: %w", i+1, x, ErrTooShort)
	}
	twins := p.twins(i)
	slices.SortFunc(twins, func(a, b twin) int { return b.index - a.index })
	q := p.Clone()
	cut := map[int]bool{}
	for _, t := range twins {
		f := p.Elements[t.index]
		at := f.X0 + (x - e.X0)
		if t.mirrored {
			at = f.X1 - (x - e.X0)
		}
		q.Elements = slices.Replace(q.Elements, t.index, t.index+1, f.cut(at)...)
		cut[t.index] = true
	}
	q.Ties = retied(p.Ties, renumbering{
		element: func(k int) (int, bool) { return k + before(cut, k), true },
		joint:   func(k int) (int, bool) { return k + before(cut, k), true },
		place: func(l Place) (Place, bool) {
			m := Place{l.Element + before(cut, l.Element), l.Spot}
			if cut[l.Element] && l.Spot == FarEnd {
				m.Element++
			}
			return m, l.Spot != Middle || !cut[l.Element]
		},
	})
	return q.freed(), nil
}

// before counts the members under k.
func before(set map[int]bool, k int) int {
	n := 0
	for m := range set {
		if m < k {
			n++
		}
	}
	return n
}

// cut returns the two parts of an element before and after station x.
func (e Element) cut(x float64) []Element {
	d := e.At(x)
	return []Element{e.part(e.X0, e.D0, x, d), e.part(x, d, e.X1, e.D1)}
}

// part returns the piece of e between two points of its own meridian.
func (e Element) part(x0, d0, x1, d1 float64) Element {
	var cut []Segment
	for _, s := range e.Segments() {
		lo, hi := math.Max(s.X0, x0), math.Min(s.X1, x1)
		if hi-lo > joinTolerance {
			cut = append(cut, s.between(lo, hi))
		}
	}
	f := Element{Kind: e.Kind, X0: x0, D0: d0, X1: x1, D1: d1, Side: e.Side, Roll: e.Roll, State: e.State, Style: e.Style}
	switch {
	case e.Kind == Square, e.Kind == Fillet, e.Kind == Cylinder, e.Kind == Taper:
		return f
	case len(cut) == 2:
		f.InnerX, f.InnerD, f.Sagitta = cut[0].X1, 2*cut[0].R1, cut[0].Sagitta
		if e.Kind == Vee {
			f.Sagitta = 0
		}
		return f
	case e.Kind == Shoulder:
		f.Style, f.Sagitta = Quarter, cut[0].Sagitta
		if cut[0].Straight() {
			f.Style = Straight
		}
		return f
	}
	f.Sagitta = cut[0].Sagitta
	f.Kind = arcKind(cut[0])
	return f
}

// between returns the part of the segment from station lo to hi.
func (s Segment) between(lo, hi float64) Segment {
	f := Segment{X0: lo, R0: s.At(lo), X1: hi, R1: s.At(hi)}
	if s.Straight() {
		return f
	}
	// The same circle over a shorter chord: h = R - sqrt(R² - c²/4).
	r, half := s.Radius(), f.Chord()/2
	f.Sagitta = math.Copysign(r-math.Sqrt(math.Max(0, r*r-half*half)), s.Sagitta)
	return f
}

// arcKind names a single arc.
func arcKind(s Segment) Kind {
	_, _, inside := s.Extreme()
	switch {
	case s.Straight():
		return Taper
	case s.Sagitta > 0 && inside:
		return Bead
	case s.Sagitta > 0:
		return HalfBead
	case inside:
		return Cove
	}
	return HalfCove
}
