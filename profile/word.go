package profile

import "math"

const (
	// ballCentre is how far the centre of a ball's arc may lie off the axis, as a share of its radius: a tenth, beyond
	// which the eye sees a bead or a swell (common practice, no source).
	ballCentre = 0.1
	// ballNeck is the thickest neck of a ball as a share of its diameter: a thicker one leaves a slice of a ball.
	ballNeck = 0.75
	// scotiaCorner is the largest corner between the two coves of a scotia, radians: six degrees, which the eye takes for
	// smooth.
	scotiaCorner = 0.1
)

// Word returns what a turner calls element i: a ball for a bead whose arc is struck from the axis, a scotia for each of
// two coves of different radii that run into one another, and otherwise its kind.
func (p Pattern) Word(i int) string {
	e := p.Elements[i]
	switch {
	case e.ball():
		return "ball"
	case p.scotia(i), i > 0 && p.scotia(i-1):
		return "scotia"
	}
	return string(e.Kind)
}

func (e Element) ball() bool {
	if e.Kind != Bead && e.Kind != Swell {
		return false
	}
	s := e.first()
	_, r, ok := s.Centre()
	_, top, crest := s.Extreme()
	return ok && crest && math.Abs(r) < ballCentre*s.Radius() && math.Max(s.R0, s.R1) < ballNeck*top
}

// scotia reports whether elements i and i+1 are one moulding of two coves.
func (p Pattern) scotia(i int) bool {
	if i+1 >= len(p.Elements) {
		return false
	}
	a, b := p.Elements[i], p.Elements[i+1]
	hollow := func(e Element) bool { return e.Kind == Cove || e.Kind == HalfCove }
	return hollow(a) && hollow(b) && math.Abs(a.D1-b.D0) < equalDiameters &&
		math.Abs(b.first().startAngle()-a.last().endAngle()) < scotiaCorner
}
