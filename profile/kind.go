package profile

import (
	"fmt"
	"math"
)

// SetKind changes the kind of element i and of its twins. Its stations stay; diameters stay where the kind allows (a
// cylinder has one, so it gets the mean), and a curve starts from the usual proportions. Ties that the new kind cannot
// keep are given up.
func SetKind(p Pattern, i int, k Kind) (Pattern, error) {
	if i < 0 || i >= len(p.Elements) {
		return p, fmt.Errorf("change the kind of element %d: %w", i+1, ErrNoElement)
	}
	if !k.Known() {
		return p, fmt.Errorf("change the kind of element %d: %q is not a kind", i+1, k)
	}
	q := p.Clone()
	f := p.Elements[i].as(k)
	for _, t := range p.twins(i) {
		g := f
		if t.mirrored {
			g = f.mirrored(f.X0 + f.X1)
		}
		q.Elements[t.index] = g.onto(p.Elements[t.index])
	}
	return q.freed(), nil
}

// as returns the element as another kind.
func (e Element) as(k Kind) Element {
	if k == e.Kind {
		return e
	}
	_, mid, hadMid := e.Mid()
	old := e
	e = Element{Kind: k, X0: e.X0, X1: e.X1, D0: e.D0, D1: e.D1, State: e.State, U: e.U}
	switch k {
	case Fillet, Cylinder:
		e.D0 = (old.D0 + old.D1) / 2
		e.D1 = e.D0
	case Square:
		e.Side = math.Max(old.Side, math.Max(old.D0, old.D1))
		e.D0, e.D1 = e.Side, e.Side
	case Shoulder:
		e.asShoulder(old)
	case Vee:
		e.asVee(mid, hadMid)
	case Ogee:
		e.InnerX, e.InnerD = (e.X0+e.X1)/2, (e.D0+e.D1)/2
		e.Sagitta = math.Copysign(e.chord()/12, e.D0-e.D1)
	case Bead, HalfBead, Cove, HalfCove, Swell:
		e.asArc(old, mid, hadMid)
	}
	return e
}

func (e Element) chord() float64 { return math.Hypot(e.Length(), (e.D1-e.D0)/2) }

// asShoulder takes the larger end as the square's corner.
func (e *Element) asShoulder(old Element) {
	e.Style = Straight
	e.Side = old.Side
	if e.Side == 0 {
		e.Side = math.Max(old.D0, old.D1) / math.Sqrt2
	}
	corner := e.Side * math.Sqrt2
	if e.D0 >= e.D1 {
		e.D0 = corner
	} else {
		e.D1 = corner
	}
}

// asVee cuts to the old bottom if there was one below both ends, otherwise to a 90 degree included angle
// (Milton and Wohlers, A Course in Wood Turning, exercise A-I-4), but no deeper than half way to the axis.
func (e *Element) asVee(mid float64, hadMid bool) {
	low := math.Min(e.D0, e.D1)
	e.InnerX = (e.X0 + e.X1) / 2
	e.InnerD = math.Max(low-e.Length(), low/2)
	if hadMid && mid < low {
		e.InnerD = mid
	}
}

// asArc keeps the old crest or bottom when the new kind can have it, otherwise starts from a sixth of the chord for
// beads and coves, and from a hundredth of the length for a swell.
func (e *Element) asArc(old Element, mid float64, hadMid bool) {
	sign, share := 1.0, 1.0/6
	switch e.Kind {
	case Cove, HalfCove:
		sign = -1
	case Swell:
		share = 0.01
	}
	e.Sagitta = sign * share * e.chord()
	if e.Kind == HalfBead || e.Kind == HalfCove {
		// A quarter round: the arc leaves one end along the axis or across it.
		e.Sagitta = sign * 0.2 * e.chord()
	}
	// Never through the axis.
	if lowest := -0.45 * math.Min(e.D0, e.D1); e.Sagitta < lowest {
		e.Sagitta = lowest
	}
	if hadMid && old.Kind.Curved() && (mid-old.D0)*sign > 0 {
		if f, ok := e.WithMid(mid); ok && f.Sagitta*sign > 0 {
			*e = f
		}
	}
}
