package fit

import (
	"math"

	"spindlestick/profile"
)

// Limits between words that differ by proportion only (common practice, no source).
const (
	// filletLength and filletShare bound a fillet: it separates mouldings, so it is short for the hand (mm) and
	// short against its diameter; the two limits are averaged geometrically so that small and large pieces
	// each get their own.
	filletLength = 5.0
	filletShare  = 0.155
	// swellShare and swellHeight tell a swell from a bead: a swell is longer than this share of its diameter
	// and no higher over its chord than this share of its length.
	swellShare  = 0.6
	swellHeight = 0.18
)

// name turns the refined chain into elements.
func (q quality) name() []profile.Element {
	f := q.fitted
	var out []profile.Element
	for k := 0; k < len(f.links); k++ {
		a, e := k, f.element(k)
		switch {
		case f.vee(k):
			e = f.join(k, profile.Vee)
			k++
		case k+1 < len(f.links) && f.links[k+1].bound():
			e = f.join(k, profile.Ogee)
			k++
		}
		q.fill(&e, a, k)
		out = append(out, e)
	}
	return joinSquares(out)
}

// leastSquare is the share of a square's visible length that its shoulders leave of it, however far the
// shoulders' visible parts seem to reach.
const leastSquare = 0.2

// joinSquares ends each square where its shoulders start at the corners.
func joinSquares(es []profile.Element) []profile.Element {
	for i := range es {
		if es[i].Kind != profile.Square {
			continue
		}
		room := (1 - leastSquare) / 2 * es[i].Length()
		if i > 0 && es[i-1].Kind == profile.Shoulder {
			es[i-1].X1 = math.Min(es[i-1].X1, es[i].X0+room)
			es[i].X0, es[i].U.X0 = es[i-1].X1, es[i-1].U.X1
		}
		if i+1 < len(es) && es[i+1].Kind == profile.Shoulder {
			es[i+1].X0 = math.Max(es[i+1].X0, es[i].X1-room)
			es[i].X1, es[i].U.X1 = es[i+1].X0, es[i+1].U.X0
		}
	}
	return es
}

// element names link k by itself.
func (f *fitted) element(k int) profile.Element {
	s := f.segment(k)
	e := profile.Element{X0: s.X0, X1: s.X1, D0: 2 * s.R0, D1: 2 * s.R1, Sagitta: s.Sagitta}
	sh, isShoulder := f.ties.shoulder(k)
	switch {
	case isShoulder:
		return shoulderElement(s, sh.style, sh.link > sh.square)
	case f.ties.square[k]:
		e.Kind, e.Side, e.Roll = profile.Square, e.D0, f.ties.roll
	case f.ties.level[k]:
		e.Kind = flat(s.X1-s.X0, e.D0)
	case s.Straight():
		e.Kind = profile.Taper
	default:
		e.Kind = f.curved(k, s)
	}
	if !e.Kind.Curved() {
		e.Sagitta = 0
	}
	return e
}

// flat names a level run.
func flat(length, d float64) profile.Kind {
	if length < filletLimit(d) {
		return profile.Fillet
	}
	return profile.Cylinder
}

// filletLimit is the length from which a level run of diameter d is a cylinder, mm.
func filletLimit(d float64) float64 { return math.Sqrt(filletLength * filletShare * d) }

// curved names an arc.
func (f *fitted) curved(k int, s profile.Segment) profile.Kind {
	inside := f.arcShape(k) == whole
	if s.Sagitta < 0 {
		if inside {
			return profile.Cove
		}
		return profile.HalfCove
	}
	length, d := s.X1-s.X0, 2*math.Max(s.R0, s.R1)
	switch {
	case length > swellShare*d && s.Sagitta < swellHeight*s.Chord():
		return profile.Swell
	case inside:
		return profile.Bead
	}
	return profile.HalfBead
}

// join names links k and k+1 as one element with an inner point.
func (f *fitted) join(k int, kind profile.Kind) profile.Element {
	a, b := f.segment(k), f.segment(k+1)
	return profile.Element{Kind: kind, X0: a.X0, X1: b.X1, D0: 2 * a.R0, D1: 2 * b.R1,
		InnerX: a.X1, InnerD: 2 * a.R1, Sagitta: a.Sagitta}
}
