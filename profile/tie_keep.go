package profile

import (
	"fmt"
	"slices"
)

// kept finishes an edit of was that left all elements in their places: arcs bend so that tangent ties hold again, their
// twins with them. Where a tie that held before does not hold any more, the edit is refused; what says what it was.
func (p Pattern) kept(was Pattern, edited int, what string) (Pattern, error) {
	p = p.settled(edited)
	for _, t := range p.Ties {
		if !p.Holds(t) && was.Holds(t) {
			return was, fmt.Errorf("%s: %w", what, ErrTied)
		}
	}
	return p, nil
}

// settled bends arcs until the tangent ties hold, as far as they can. An arc between two tangent joints may need a
// second look, never more than there are ties.
func (p Pattern) settled(edited int) Pattern {
	for range p.Ties {
		bent := false
		for _, t := range p.Ties {
			if t.Kind != Tangent || p.smooth(t.Joint) {
				continue
			}
			q, i, ok := p.smoothed(t.Joint, edited)
			if !ok {
				continue
			}
			for _, m := range q.twins(i)[1:] {
				q.Elements[m.index].Sagitta = q.Elements[i].Sagitta
			}
			p, bent = q, true
		}
		if !bent {
			break
		}
	}
	return p
}

// freed drops the ties that do not hold any more after an edit that changed which elements there are.
func (p Pattern) freed() Pattern {
	p.Ties = slices.DeleteFunc(slices.Clone(p.Ties), func(t Tie) bool { return !p.Holds(t) })
	if len(p.Ties) == 0 {
		p.Ties = nil
	}
	return p
}

// renumbering says where elements, joints and places stand after an edit; false = they are gone.
type renumbering struct {
	element func(int) (int, bool)
	joint   func(int) (int, bool)
	place   func(Place) (Place, bool)
}

// retied returns the ties in their new numbers; one that lost what it ties is left out.
func retied(ties []Tie, r renumbering) []Tie {
	var out []Tie
	for _, t := range ties {
		n := Tie{Kind: t.Kind}
		ok := true
		switch t.Kind {
		case Equal:
			for _, l := range t.Places {
				if m, there := r.place(l); there {
					n.Places = append(n.Places, m)
				}
			}
			ok = len(n.Places) > 1
		case Tangent:
			n.Joint, ok = r.joint(t.Joint)
		default:
			n.Groups, n.Count, ok = t.groups(r.element)
		}
		if ok {
			out = append(out, n)
		}
	}
	return out
}

// groups returns the groups in new numbers: what is left of each, which must be as many in all of them.
func (t Tie) groups(element func(int) (int, bool)) (first []int, count int, ok bool) {
	for g, old := range t.Groups {
		lo, hi := -1, -1
		for k := old; k < old+t.Count; k++ {
			if m, there := element(k); there {
				if lo < 0 {
					lo = m
				}
				hi = m
			}
		}
		if last, there := element(old + t.Count); there && lo >= 0 {
			hi = last - 1 // what the last one was cut into
		}
		if lo < 0 || g > 0 && hi-lo+1 != count {
			return nil, 0, false
		}
		first, count = append(first, lo), hi-lo+1
	}
	return first, count, true
}
