package profile

import (
	"errors"
	"fmt"
	"slices"
)

// Change is what an edit did: the elements from At on that were Old are New, and all that belongs to the whole pattern
// went from Before to After. It is a value that can be kept, turned round, and applied again.
type Change struct {
	At            int
	Old, New      []Element
	Before, After Whole
}

// Whole is what belongs to a pattern as a whole.
type Whole struct {
	Length, ULength float64
	Ties            []Tie
}

// ErrChange says that a change does not begin where the pattern stands.
var ErrChange = errors.New("the change was made to another pattern")

func (p Pattern) whole() Whole { return Whole{p.Length, p.ULength, p.Ties} }

// Between returns the change that leads from p to q, the fewest elements that differ in one run.
func Between(p, q Pattern) Change {
	a, b := p.Elements, q.Elements
	n := min(len(a), len(b))
	head := 0
	for head < n && a[head] == b[head] {
		head++
	}
	tail := 0
	for tail < n-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	return Change{
		At: head, Old: slices.Clone(a[head : len(a)-tail]), New: slices.Clone(b[head : len(b)-tail]),
		Before: p.whole(), After: q.whole(),
	}
}

// Inverse returns the change that undoes c, to the last bit.
func (c Change) Inverse() Change {
	return Change{At: c.At, Old: c.New, New: c.Old, Before: c.After, After: c.Before}
}

// Empty reports whether the change changes nothing.
func (c Change) Empty() bool {
	return len(c.Old) == 0 && len(c.New) == 0 && c.Before.equal(c.After)
}

// Apply makes the change to the pattern that it begins from.
func (c Change) Apply(p Pattern) (Pattern, error) {
	end := c.At + len(c.Old)
	if c.At < 0 || end > len(p.Elements) || !slices.Equal(p.Elements[c.At:end], c.Old) || !p.whole().equal(c.Before) {
		return p, fmt.Errorf("apply a change to elements %d to %d: %w", c.At+1, end, ErrChange)
	}
	q := p.Clone()
	q.Elements = slices.Replace(q.Elements, c.At, end, c.New...)
	q.Length, q.ULength, q.Ties = c.After.Length, c.After.ULength, slices.Clone(c.After.Ties)
	return q, nil
}

func (w Whole) equal(v Whole) bool {
	return w.Length == v.Length && w.ULength == v.ULength && slices.EqualFunc(w.Ties, v.Ties, Tie.equal)
}

func (t Tie) equal(u Tie) bool {
	return t.Kind == u.Kind && t.Joint == u.Joint && t.Count == u.Count && slices.Equal(t.Places, u.Places) && slices.Equal(t.Groups, u.Groups)
}
