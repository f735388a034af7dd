package fit

import (
	"fmt"

	"spindlestick/profile"
)

// put writes the section into the pattern. Where ties hold some of it, every number goes through the edits that keep them.
func (s *section) put(p profile.Pattern) (profile.Pattern, error) {
	shapes := make([]profile.Element, len(s.elements))
	for i := range s.elements {
		shapes[i] = s.shape(i)
	}
	if len(p.Ties) == 0 {
		q := p.Clone()
		copy(q.Elements[s.first:], shapes)
		if err := q.Validate(); err != nil {
			return p, fmt.Errorf("%w: %w", ErrRefit, err)
		}
		return q, nil
	}
	return s.putTied(p, shapes)
}

// putTied moves stations and sizes one by one; one that a tie forbids stays as it was.
func (s *section) putTied(p profile.Pattern, shapes []profile.Element) (profile.Pattern, error) {
	for i, e := range shapes[1:] {
		if q, err := profile.MoveStation(p, s.first+1+i, e.X0); err == nil {
			p = q
		}
	}
	for i, e := range shapes {
		if q, err := profile.Reshape(p, s.first+i, e); err == nil {
			p = q
		}
	}
	return p, p.Validate()
}

// shape is element i of the section as the chain has it now.
func (s *section) shape(i int) profile.Element {
	e, k := s.elements[i], s.links[i]
	end, _ := s.joint(s.first + i + 1)
	g := s.chain.segment(k)
	e.X0, e.X1 = g.X0, s.chain.joints[end].x
	e.D0, e.D1 = 2*g.R0, 2*s.chain.joints[end].before
	if e.Kind.Curved() || e.Kind == profile.Ogee {
		e.Sagitta = g.Sagitta
	}
	if e.Kind.Inner() {
		e.InnerX, e.InnerD = g.X1, 2*g.R1
	}
	return e
}
