package profile

import (
	"errors"
	"fmt"
	"math"
)

// A broken end is extended at the far end of the pattern; Mirror brings the other end there. What is added is marked as
// inferred, since nothing of it was measured.

// Append adds an element of kind k at the far end: from the diameter there to d mm, and as long as stated, mm.
func Append(p Pattern, k Kind, length, d float64) (Pattern, error) {
	what := fmt.Sprintf("add a %s of %.2f mm", k, length)
	switch {
	case len(p.Elements) == 0:
		return p, fmt.Errorf("%s: %w", what, ErrNoElement)
	case !k.Known():
		return p, fmt.Errorf("%s: %q is not a kind", what, k)
	case !(length >= MinElement) || math.IsInf(length, 0):
		return p, fmt.Errorf("%s: %w", what, ErrTooShort)
	case !(d > 0) || math.IsInf(d, 0):
		return p, fmt.Errorf("%s, ending at %.2f mm: %w", what, d, ErrSize)
	}
	last := p.Elements[len(p.Elements)-1]
	e := Element{Kind: Taper, X0: last.X1, X1: last.X1 + length, D0: last.D1, D1: d, Side: last.Side, State: Inferred}
	if last.D1 == 0 {
		e.D0 = d // a piece that ended in a point goes on at its new size
	}
	if k.level() {
		e.D0 = d
	}
	q := p.Clone()
	q.Elements = append(q.Elements, e.as(k))
	q.Length = e.X1
	return q, nil
}

// ErrMirror is wrapped by the errors of Complete.
var ErrMirror = errors.New("the mirror image adds nothing beyond the break")

// Complete replaces what is broken off the far end by the mirror image of the other half about station about, mm: the
// middle of an element that is its own mirror image, or a joint. Elements that were measured whole stay as they are; the
// one that holds the break, and all beyond, come from their images.
func Complete(p Pattern, about float64) (Pattern, error) {
	what := fmt.Sprintf("complete the far end by its mirror image about %.2f mm", about)
	if !(about > 0 && about < p.Length) || !(2*about > p.Length+MinElement) {
		return p, fmt.Errorf("%s: %w: mirror about a station beyond the middle", what, ErrMirror)
	}
	q := p.Clone()
	var images []Element
	for i := len(p.Elements) - 1; i >= 0; i-- {
		e := p.Elements[i].mirrored(2 * about)
		if e.X0 < about-joinTolerance || e.X1 <= p.Length+joinTolerance {
			continue // its own image holds the mirror, or was measured
		}
		e.State = Inferred
		images = append(images, e)
	}
	if len(images) == 0 {
		return p, fmt.Errorf("%s: %w", what, ErrMirror)
	}
	from := images[0].X0
	keep := 0
	for keep < len(q.Elements) && (q.Elements[keep].X0+q.Elements[keep].X1)/2 < from {
		keep++
	}
	q.Elements = append(q.Elements[:keep:keep], images...)
	q.Elements[keep-1] = q.Elements[keep-1].stretched(q.Elements[keep-1].X0, from)
	q.Length = q.Elements[len(q.Elements)-1].X1
	gone := func(k int) bool { return k >= keep }
	q.Ties = retied(p.Ties, renumbering{
		element: func(k int) (int, bool) { return k, !gone(k) },
		joint:   func(k int) (int, bool) { return k, !gone(k) },
		place:   func(l Place) (Place, bool) { return l, !gone(l.Element) },
	})
	return q.freed(), nil
}
