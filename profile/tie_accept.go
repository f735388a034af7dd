package profile

import (
	"fmt"
	"math"
	"slices"
)

// leastBound is the smallest uncertainty that a number is credited with when several are averaged, mm: a hundredth,
// what a micrometer reads.
const leastBound = 0.01

// AddTie puts a tie in force: what it ties becomes equal at its weighted mean, each number weighing as its uncertainty
// says, and edits keep it so. The overall length stays. What other ties hold stays held, or the tie is refused.
func AddTie(p Pattern, t Tie) (Pattern, error) {
	what := fmt.Sprintf("tie (%s)", t.Kind)
	if err := t.validate(len(p.Elements)); err != nil {
		return p, fmt.Errorf("%s: %w", what, err)
	}
	q := p.Clone()
	q.Ties = append(q.Ties, t)
	var err error
	switch t.Kind {
	case Equal:
		q, err = q.level(t.Places, what)
	case Tangent:
		q, err = q.joinSmoothly(t.Joint, what)
	default:
		q, err = q.alignGroups(t, what)
	}
	if err != nil {
		return p, err
	}
	q = q.settled(-1)
	for _, u := range q.Ties {
		if !q.Holds(u) && (p.Holds(u) || u.equal(t)) {
			return p, fmt.Errorf("%s: it cannot be had together with what is tied already or with the shapes beside it: %w", what, ErrTied)
		}
	}
	return q, nil
}

// RemoveTie gives up tie i; sizes stay as they are.
func RemoveTie(p Pattern, i int) (Pattern, error) {
	if i < 0 || i >= len(p.Ties) {
		return p, fmt.Errorf("give up tie %d: there is no such tie", i+1)
	}
	q := p.Clone()
	q.Ties = slices.Delete(q.Ties, i, i+1)
	if len(q.Ties) == 0 {
		q.Ties = nil
	}
	return q, nil
}

// level sets places to their weighted mean, and all that moves with them.
func (p Pattern) level(places []Place, what string) (Pattern, error) {
	var m mean
	for _, l := range places {
		d, ok := p.Size(l)
		if !ok {
			return p, fmt.Errorf("%s: element %d has no such diameter", what, l.Element+1)
		}
		m.add(d, p.Elements[l.Element].bound(l.Spot))
	}
	d := m.value()
	q, ok := p.withSizes(p.places(places[0]), d)
	if !ok {
		return p, fmt.Errorf("%s: no arc reaches %.2f mm", what, d)
	}
	return q, nil
}

func (p Pattern) joinSmoothly(k int, what string) (Pattern, error) {
	q := p
	if a, b := p.Elements[k-1], p.Elements[k]; a.D1 != b.D0 {
		var m mean
		m.add(a.D1, a.U.D1)
		m.add(b.D0, b.U.D0)
		var ok bool
		if q, ok = p.withSizes(append(p.places(Place{k - 1, FarEnd}), p.places(Place{k, NearEnd})...), m.value()); !ok {
			return p, fmt.Errorf("%s: no arc reaches %.2f mm", what, m.value())
		}
	}
	if q.smooth(k) {
		return q, nil
	}
	s, _, ok := q.smoothed(k, -1)
	if !ok {
		return p, fmt.Errorf("%s: no arc beside joint %d can be bent to meet its neighbour", what, k+1)
	}
	return s, nil
}

// alignGroups gives the groups of a tie one shape: stations first, then diameters, then what arithmetic leaves.
func (p Pattern) alignGroups(t Tie, what string) (Pattern, error) {
	for j := range t.Count {
		for g := range t.Groups {
			if a, b := p.Elements[t.Groups[0]+j], p.Elements[t.member(g, j)]; a.Kind != b.Kind || a.Style != b.Style {
				return p, fmt.Errorf("%s: element %d is a %s and element %d a %s", what, t.Groups[0]+j+1, a.Kind, t.member(g, j)+1, b.Kind)
			}
		}
	}
	at, ok := p.equalLengths()
	if !ok {
		return p, fmt.Errorf("%s: the lengths cannot be made equal: %w", what, ErrTied)
	}
	q, ok := p.restationed(at)
	if !ok {
		return p, fmt.Errorf("%s: %w", what, ErrTooShort)
	}
	for j := range t.Count {
		var err error
		if q, err = q.alignShape(t, j, what); err != nil {
			return p, err
		}
	}
	return q, nil
}

// alignShape gives the members j of a tie's groups one shape.
func (p Pattern) alignShape(t Tie, j int, what string) (Pattern, error) {
	first := Place{Element: t.Groups[0] + j}
	for _, spot := range []Spot{NearEnd, FarEnd, Middle} {
		first.Spot = spot
		if spot == Middle && !p.Elements[first.Element].peaks() {
			continue // the crest of a half-bead is its end
		}
		var err error
		if p, err = p.level(t.answering(first), what); err != nil {
			return p, err
		}
	}
	q := p.Clone()
	model := q.Elements[first.Element]
	if model.hasInner() {
		share := 0.0
		for g := range t.Groups {
			e := t.orientedMember(q, g, j)
			share += (e.InnerX - e.X0) / e.Length() / float64(len(t.Groups))
		}
		model.InnerX = model.X0 + share*model.Length()
		q.Elements[first.Element] = model
	}
	for g := range t.Groups[1:] {
		k := t.member(g+1, j)
		shape := model
		if t.Kind == Mirrored {
			shape = model.mirrored(model.X0 + model.X1)
		}
		q.Elements[k] = shape.onto(q.Elements[k])
	}
	return q, nil
}

func (t Tie) orientedMember(p Pattern, g, j int) Element {
	e := p.Elements[t.member(g, j)]
	if g == 1 {
		return t.oriented(e)
	}
	return e
}

// answering returns place l of the first group and the places that answer to it.
func (t Tie) answering(l Place) []Place {
	out := []Place{l}
	t.eachEqual(l, func(m Place) { out = append(out, m) })
	return out
}

// bound is the expanded uncertainty of a spot's diameter, mm; 0 = not known.
func (e Element) bound(s Spot) float64 {
	switch s {
	case NearEnd:
		return e.U.D0
	case FarEnd:
		return e.U.D1
	}
	return e.U.Mid
}

// mean is a weighted mean under way.
type mean struct{ sum, weight float64 }

func (m *mean) add(v, u float64) {
	if u == 0 {
		u = unknownAlike
	}
	w := 1 / math.Pow(math.Max(u, leastBound), 2)
	m.sum += w * v
	m.weight += w
}

func (m *mean) value() float64 { return m.sum / m.weight }
