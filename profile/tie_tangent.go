package profile

import "math"

// smoothAngle is the corner under which a joint counts as tangent, radians: what arithmetic leaves of a tangent that was
// worked out.
const smoothAngle = 1e-6

// smooth reports whether the meridian runs through the start of element k without a step or a corner.
func (p Pattern) smooth(k int) bool {
	a, b := p.Elements[k-1], p.Elements[k]
	return math.Abs(a.D1-b.D0) < tieTolerance && math.Abs(b.first().startAngle()-a.last().endAngle()) < smoothAngle
}

func (e Element) first() Segment { return e.Segments()[0] }

func (e Element) last() Segment {
	s := e.Segments()
	return s[len(s)-1]
}

// startAngle and endAngle are the directions of the segment at its ends, radians: an arc's tangent and its chord differ
// by half the angle it subtends.
func (s Segment) startAngle() float64 { return s.chordAngle() + s.halfAngle() }
func (s Segment) endAngle() float64   { return s.chordAngle() - s.halfAngle() }

func (s Segment) chordAngle() float64 { return math.Atan2(s.R1-s.R0, s.X1-s.X0) }
func (s Segment) halfAngle() float64  { return math.Copysign(s.Angle()/2, s.Sagitta) }

// smoothed bends an arc beside joint k so that the joint has no corner. The arc that is not in element keep bends, if
// there is one; false when neither can.
func (p Pattern) smoothed(k, keep int) (Pattern, int, bool) {
	order := []int{k, k - 1}
	if keep == k {
		order = []int{k - 1, k}
	}
	for _, i := range order {
		if f, ok := p.bent(k, i); ok {
			q := p.Clone()
			q.Elements[i] = f
			return q, i, true
		}
	}
	return p, 0, false
}

// bent returns element i with the height that makes joint k, one of its ends, smooth.
func (p Pattern) bent(k, i int) (Element, bool) {
	e := p.Elements[i]
	if !e.Kind.Curved() {
		return e, false
	}
	s := e.first()
	half := s.chordAngle() - p.Elements[k].first().startAngle() // i ends at k
	if i == k {
		half = p.Elements[k-1].last().endAngle() - s.chordAngle()
	}
	h := s.Chord() / 2 * math.Tan(half/2)
	if h*e.Sagitta <= 0 {
		return e, false // a bead cannot become a cove
	}
	e.Sagitta = h
	q := p.Clone()
	q.Elements[i] = e
	return e, q.smooth(k)
}
