package profile

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// Merge joins element i and the next into one of element i's kind, or of the longer one's kind when that is longer. The
// same is done wherever a tie makes a joint answer to this one.
func Merge(p Pattern, i int) (Pattern, error) {
	if i < 0 || i+1 >= len(p.Elements) {
		return p, fmt.Errorf("merge element %d with the next: %w", i+1, ErrNoElement)
	}
	gone, free := p.inner(i + 1)
	q := p.Clone()
	for _, k := range slices.Backward(slices.Sorted(maps.Keys(gone))) {
		q.Elements = slices.Replace(q.Elements, k-1, k+1, joined(q.Elements[k-1], q.Elements[k]))
	}
	q.Ties = retied(free, renumbering{
		element: func(k int) (int, bool) { return k - upTo(gone, k), !gone[k] },
		joint:   func(k int) (int, bool) { return k - upTo(gone, k), !gone[k] },
		place: func(l Place) (Place, bool) {
			e := l.Element
			lost := gone[e] && l.Spot != FarEnd || gone[e+1] && l.Spot != NearEnd
			return Place{e - upTo(gone, e), l.Spot}, !lost
		},
	})
	return q.freed(), nil
}

// inner returns the joints that answer to joint k inside tied groups, k among them, and the ties without those that one
// of these joints bounds: what is joined across a group's end is no group any more.
func (p Pattern) inner(k int) (map[int]bool, []Tie) {
	found := map[int]bool{k: true}
	var free []Tie
	for _, t := range p.Ties {
		bounds := false
		for _, g := range t.Groups {
			bounds = bounds || k == g || k == g+t.Count
		}
		if !bounds {
			free = append(free, t)
		}
	}
	for again := true; again; {
		again = false
		for _, t := range free {
			for e := range found {
				t.eachEdge(e, 0, func(m int, _ float64) {
					if !found[m] {
						found[m], again = true, true
					}
				})
			}
		}
	}
	free = slices.DeleteFunc(free, func(t Tie) bool {
		return slices.ContainsFunc(t.Groups, func(g int) bool { return found[g] || found[g+t.Count] })
	})
	return found, free
}

// upTo counts the members up to k.
func upTo(set map[int]bool, k int) int { return before(set, k+1) }

// joined makes one element of two neighbours.
func joined(a, b Element) Element {
	kind := a.Kind
	if b.Length() > a.Length() {
		kind = b.Kind
	}
	peak := math.Max(math.Max(a.D1, b.D0), math.Max(midOr(a, 0), midOr(b, 0)))
	low := math.Min(math.Min(a.D1, b.D0), math.Min(midOr(a, math.Inf(1)), midOr(b, math.Inf(1))))
	e := Element{Kind: Taper, X0: a.X0, X1: b.X1, D0: a.D0, D1: b.D1, State: worse(a.State, b.State), Side: math.Max(a.Side, b.Side)}
	e = e.as(kind)
	want := peak
	if kind == Cove || kind == HalfCove || kind == Vee {
		want = low
	}
	if f, ok := e.WithMid(want); ok {
		e = f
	}
	return e
}

func midOr(e Element, otherwise float64) float64 {
	if _, d, ok := e.Mid(); ok {
		return d
	}
	return otherwise
}

func worse(a, b State) State {
	rank := map[State]int{"": 0, Visible: 0, Inferred: 1, Hidden: 2, Damaged: 3}
	if rank[b] > rank[a] {
		return b
	}
	return a
}
