package profile

import "math"

// equals returns the places whose diameter is that of place l: by the shape of a level run, without a step at a joint, by
// ties; l is among them.
func (p Pattern) equals(l Place) []Place {
	out := []Place{l}
	seen := map[Place]bool{l: true}
	add := func(m Place) {
		if !seen[m] && !p.Elements[m.Element].corner(m.Spot) {
			seen[m] = true
			out = append(out, m)
		}
	}
	for n := 0; n < len(out); n++ {
		at := out[n]
		p.eachMeeting(at, add)
		for _, t := range p.Ties {
			t.eachEqual(at, add)
		}
	}
	return out
}

// eachMeeting calls add with the other end of a level run and with what meets place l without a step.
func (p Pattern) eachMeeting(l Place, add func(Place)) {
	if l.Spot == Middle {
		return
	}
	facing, next := NearEnd, l.Element+1
	if l.Spot == NearEnd {
		facing, next = FarEnd, l.Element-1
	}
	if p.Elements[l.Element].Kind.level() {
		add(Place{l.Element, facing})
	}
	if next < 0 || next >= len(p.Elements) {
		return
	}
	d, _ := p.Size(l)
	if f, _ := p.Size(Place{next, facing}); math.Abs(f-d) < equalDiameters {
		add(Place{next, facing})
	}
}

// corner reports whether a spot of a shoulder is the square's corner, whose diameter follows from the side.
func (e Element) corner(s Spot) bool {
	return e.Kind == Shoulder && (s == NearEnd && e.D0 >= e.D1 || s == FarEnd && e.D1 > e.D0)
}

// roundedSizes gives q, which has its stations, the diameters of p as multiples of step.
func (q Pattern) roundedSizes(p Pattern, step float64) Pattern {
	q = q.Clone()
	done := map[Place]bool{}
	round := func(s Spot) {
		for i := range p.Elements {
			l := Place{i, s}
			d, ok := p.Size(l)
			if !ok || d == 0 || done[l] || p.Elements[i].corner(s) {
				continue
			}
			all := p.equals(l)
			d = p.roundedMean(all, step)
			for _, m := range all {
				done[m] = true
				q.Elements[m.Element].put(m.Spot, d)
			}
		}
	}
	round(NearEnd)
	round(FarEnd)
	q.roundedSquares(step)
	for i, e := range p.Elements {
		q.Elements[i] = e.bentLike(q.Elements[i])
	}
	q.roundMiddles(p, step)
	return q
}

// roundedMean returns the multiple of step nearest to the mean diameter of places, never nothing.
func (p Pattern) roundedMean(all []Place, step float64) float64 {
	sum := 0.0
	for _, l := range all {
		d, _ := p.Size(l)
		sum += d
	}
	return math.Max(1, math.Round(sum/float64(len(all))/step)) * step
}

// put writes an end's diameter, and nothing else.
func (e *Element) put(s Spot, d float64) {
	switch s {
	case NearEnd:
		e.D0 = d
	case FarEnd:
		e.D1 = d
	}
	if e.Kind == Square && s != Middle {
		e.Side = d
	}
}

// roundedSquares rounds the sides that shoulders carry, and puts their corners where the sides have them.
func (p Pattern) roundedSquares(step float64) {
	for i := range p.Elements {
		e := &p.Elements[i]
		if e.Kind != Shoulder {
			continue
		}
		e.Side = math.Max(1, math.Round(e.Side/step)) * step
		if e.corner(NearEnd) {
			e.D0 = e.Side * math.Sqrt2
		} else {
			e.D1 = e.Side * math.Sqrt2
		}
	}
	for i := range p.Elements {
		p.followSquare(i)
	}
}

// levelled is the slope at an arc's end up to which it is taken to be meant level, radians, as the fit has it.
const levelled = 0.03

// bentLike gives f, the element e at its rounded ends, an arc of the same angle as e's, or level where e's is.
func (e Element) bentLike(f Element) Element {
	if e.Kind == Vee || e.Kind.level() || e.Kind == Taper {
		return f
	}
	a, b := e.first(), f.first()
	if a.Straight() || a.Chord() == 0 {
		return f
	}
	f.Sagitta = a.held() * b.Chord() / a.Chord()
	if e.Kind.Curved() && math.Min(math.Abs(a.startAngle()), math.Abs(a.endAngle())) < levelled {
		f.Sagitta = math.Copysign(b.Chord()/2*math.Tan(math.Abs(b.chordAngle())/2), e.Sagitta)
	}
	return f
}

// roundMiddles rounds crests, bottoms and inflections. A crest stays a step over its ends, so that no bead vanishes; an
// inflection stays between its own.
func (q Pattern) roundMiddles(p Pattern, step float64) {
	done := map[Place]bool{}
	for i, e := range p.Elements {
		l := Place{i, Middle}
		if !e.peaks() || done[l] {
			continue
		}
		all := p.equals(l)
		d := p.roundedMean(all, step)
		for _, m := range all {
			if m.Spot == Middle {
				d = q.Elements[m.Element].clear(d, step, p.Elements[m.Element].midRole())
			} else if now, ok := q.Size(m); ok {
				d = now // an end that it equals is rounded already
				break
			}
		}
		for _, m := range all {
			done[m] = true
			if m.Spot == Middle {
				q.Elements[m.Element] = q.Elements[m.Element].reaching(d)
			}
		}
	}
}

// peaks reports whether the element has a middle of its own: the crest of a half-bead is its end.
func (e Element) peaks() bool {
	_, _, ok := e.Mid()
	return ok && e.Kind != HalfBead && e.Kind != HalfCove
}

// clear returns d, or the nearest multiple of step that keeps the element's middle what it is.
func (e Element) clear(d, step float64, role Role) float64 {
	switch role {
	case Crest:
		return math.Max(d, math.Max(e.D0, e.D1)+step)
	case Bottom:
		return math.Min(d, math.Max(step, math.Min(e.D0, e.D1)-step))
	}
	return d
}

// leastSagitta keeps an arc that rounding flattened one that has a crest, mm: far under what ties take for a difference.
const leastSagitta = 1e-7

// reaching gives the element its middle diameter, as near as an arc comes.
func (e Element) reaching(d float64) Element {
	if e.Kind == Ogee && (d-e.D0)*(d-e.D1) >= 0 {
		d = (e.D0 + e.D1) / 2
	}
	if f, ok := e.WithMid(d); ok {
		if f.Kind.Curved() && math.Abs(f.Sagitta) < leastSagitta {
			f.Sagitta = math.Copysign(leastSagitta, e.Sagitta)
		}
		return f
	}
	if s := e.first(); e.Kind.Curved() {
		e.Sagitta = math.Copysign(s.most(), e.Sagitta)
	}
	return e
}
