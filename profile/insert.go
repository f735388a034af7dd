package profile

import (
	"fmt"
	"math"
	"slices"
)

// Insert puts an element of kind k between stations x0 and x1 mm into the element that holds both; what is left of that
// one on either side stays. Twins of that element get theirs.
func Insert(p Pattern, k Kind, x0, x1 float64) (Pattern, error) {
	what := fmt.Sprintf("insert a %s from %.2f to %.2f mm", k, x0, x1)
	i := p.Index(x0)
	if i < 0 || !(x1 <= p.Elements[i].X1+joinTolerance) {
		return p, fmt.Errorf("%s: it must lie inside one element: %w", what, ErrNoElement)
	}
	if !(x1-x0 >= MinElement) {
		return p, fmt.Errorf("%s: %w", what, ErrTooShort)
	}
	q := p
	for _, x := range []float64{x1, x0} {
		e := q.Elements[q.Index(x0)]
		if x-e.X0 < joinTolerance || e.X1-x < joinTolerance {
			continue
		}
		var err error
		if q, err = Split(q, q.Index(x0), x); err != nil {
			return p, fmt.Errorf("%s: %w", what, err)
		}
	}
	return SetKind(q, q.Index((x0+x1)/2), k)
}

// Delete removes element i. The longer of its neighbours takes its place, so that the overall length stays; where its
// twins stand, the same is done.
func Delete(p Pattern, i int) (Pattern, error) {
	n := len(p.Elements)
	if i < 0 || i >= n {
		return p, fmt.Errorf("delete element %d: %w", i+1, ErrNoElement)
	}
	gone := map[int]bool{}
	mirrored := map[int]bool{}
	for _, t := range p.twins(i) {
		gone[t.index], mirrored[t.index] = true, t.mirrored
	}
	if len(gone) == n {
		return p, fmt.Errorf("delete element %d: nothing would be left: %w", i+1, ErrNoElement)
	}
	back := i > 0 && (i+1 == n || p.Elements[i-1].Length() >= p.Elements[i+1].Length())
	q := p.Clone()
	for k := range gone {
		q.fill(k, back != mirrored[k], gone)
	}
	kept := q.Elements[:0:0]
	for k, e := range q.Elements {
		if !gone[k] {
			kept = append(kept, e)
		}
	}
	q.Elements = kept
	q.Ties = retied(p.Ties, renumbering{
		element: func(k int) (int, bool) { return k - before(gone, k), !gone[k] },
		joint:   func(k int) (int, bool) { return k - before(gone, k), !gone[k] && !gone[k-1] },
		place: func(l Place) (Place, bool) {
			return Place{l.Element - before(gone, l.Element), l.Spot}, !gone[l.Element]
		},
	})
	return q.freed(), nil
}

// fill stretches the nearest element that stays over element k: the one before it, or after it, or the other where there
// is none.
func (p Pattern) fill(k int, back bool, gone map[int]bool) {
	lo, hi := k-1, k+1
	for lo >= 0 && gone[lo] {
		lo--
	}
	for hi < len(p.Elements) && gone[hi] {
		hi++
	}
	if lo >= 0 && (back || hi == len(p.Elements)) {
		x1 := math.Max(p.Elements[lo].X1, p.Elements[k].X1)
		p.Elements[lo] = p.Elements[lo].stretched(p.Elements[lo].X0, x1)
		return
	}
	x0 := math.Min(p.Elements[hi].X0, p.Elements[k].X0)
	p.Elements[hi] = p.Elements[hi].stretched(x0, p.Elements[hi].X1)
}

// Mirror returns the pattern hooked over its other end.
func Mirror(p Pattern) Pattern {
	n := len(p.Elements)
	q := p.Clone()
	for i, e := range p.Elements {
		q.Elements[n-1-i] = e.mirrored(p.Length)
	}
	for i := range q.Elements { // a mirrored station is one number, whichever element asks
		if i == 0 {
			q.Elements[i].X0 = 0
		} else {
			q.Elements[i].X0 = q.Elements[i-1].X1
		}
	}
	for i, t := range q.Ties {
		q.Ties[i] = t.fromOtherEnd(n)
	}
	return q
}

// fromOtherEnd returns the tie with the n elements counted from the other end.
func (t Tie) fromOtherEnd(n int) Tie {
	m := Tie{Kind: t.Kind, Count: t.Count}
	if t.Kind == Tangent {
		m.Joint = n - t.Joint
	}
	for _, l := range t.Places {
		m.Places = append(m.Places, Place{n - 1 - l.Element, l.Spot.mirrored()})
	}
	for _, g := range slices.Backward(t.Groups) {
		m.Groups = append(m.Groups, n-g-t.Count)
	}
	return m
}
