package check

import (
	"math"

	"spindlestick/profile"
)

// build makes the pattern of the robust means, on the model's elements.
func (j *joint) build() (profile.Pattern, Spread) {
	model := j.sides[j.model]
	p, s := model.piece.Pattern.Clone(), Spread{Model: j.index[j.model]}
	p.Ties = nil // they are wishes for one piece
	at, variance := 0.0, 0.0
	mids := map[int]float64{}
	ends := edgesOf(model.marks)
	for i := range p.Elements {
		e := &p.Elements[i]
		l := j.stretch(at, *e, ends[i], ends[i+1])
		variance += square(2*l.Scatter) / float64(len(l.Words))
		stretchTo(e, at, l.Value)
		e.U.X1 = j.place(ends[i+1], variance)
		if i > 0 {
			e.U.X0 = p.Elements[i-1].U.X1
		}
		at = e.X1
		s.Lengths = append(s.Lengths, l)
		d := j.size(e, ends[i], ends[i+1])
		if len(d) == 3 {
			mids[i] = d[1].Value
		}
		s.Diameters = append(s.Diameters, d...)
		e.State, e.Residual = j.state(ends[i], e.State), 0
	}
	j.settle(p.Elements, ends)
	for i, d := range mids { // last: an arc's height stands on its ends
		if made, ok := p.Elements[i].WithMid(d); ok {
			p.Elements[i] = made
		}
	}
	p.Length, p.ULength = at, p.Elements[len(p.Elements)-1].U.X1
	return p, s
}

// stretch is what the pieces say of an element's length, between the model's stations i and n.
func (j *joint) stretch(at float64, e profile.Element, i, n int) Agreement {
	vals := j.lengths(i, n)
	return agree(at, string(e.Kind)+", length", vals, vals)
}

// state is visible where any piece shows the element that starts at the model's station i; otherwise what the model has.
func (j *joint) state(i int, model profile.State) profile.State {
	for k := range j.sides {
		if m, ok := j.partner(k, i); ok && m.after.seen {
			return profile.Visible
		}
	}
	return model
}

// edgesOf returns the indices of the marks that are edges, one more than there are elements.
func edgesOf(marks []mark) []int {
	var out []int
	for i, m := range marks {
		if m.role == profile.Edge {
			out = append(out, i)
		}
	}
	return out
}

// place is the expanded uncertainty of the model's station i: what the pieces typically have there, and the scatter of
// the lengths up to it.
func (j *joint) place(i int, variance float64) float64 {
	var u []float64
	for k := range j.sides {
		m, _ := j.partner(k, i)
		u = append(u, m.ux)
	}
	return math.Hypot(median(u), math.Sqrt(variance))
}

// stretchTo puts an element between at and at+length, its inner point and arc in proportion.
func stretchTo(e *profile.Element, at, length float64) {
	share := length / e.Length()
	if e.InnerX > 0 {
		e.InnerX = at + (e.InnerX-e.X0)*share
	}
	e.Sagitta *= share
	e.X0, e.X1 = at, at+length
}

// size gives an element the robust means of the diameters at its ends, and returns them with that of its middle between
// them where it has one. from and to are the model's stations of its ends.
func (j *joint) size(e *profile.Element, from, to int) []Agreement {
	d0 := j.agreed(e.X0, string(e.Kind)+", start", j.diameters(from, func(m mark) face { return m.after }))
	d1 := j.agreed(e.X1, string(e.Kind)+", end", j.diameters(to, func(m mark) face { return m.before }))
	e.D0, e.U.D0, e.D1, e.U.D1 = d0.Value, d0.U, d1.Value, d1.U
	sizeSquare(e)
	if to == from+1 {
		return []Agreement{d0, d1}
	}
	marks := j.sides[j.model].marks
	m := marks[from+1]
	mid := j.agreed(0, string(e.Kind)+", "+string(m.role), j.diameters(from+1, func(m mark) face { return m.after }))
	mid.X, e.U.Mid = e.X0+e.Length()*(m.x-marks[from].x)/(marks[to].x-marks[from].x), mid.U
	return []Agreement{d0, mid, d1}
}

// sizeSquare keeps a square's and a shoulder's side in step with their diameters: a square's is its side, a shoulder's
// larger end its diagonal.
func sizeSquare(e *profile.Element) {
	switch e.Kind {
	case profile.Square:
		e.Side = (e.D0 + e.D1) / 2
		e.D0, e.D1 = e.Side, e.Side
	case profile.Shoulder:
		e.Side = math.Max(e.D0, e.D1) / math.Sqrt2
	}
}

// settle makes cylinders and fillets level again, and neighbours one diameter where the pieces have no step. ends are
// the model's stations of the elements' ends.
func (j *joint) settle(e []profile.Element, ends []int) {
	for i := range e {
		if levelled(e[i]) {
			e[i].D0 = (e[i].D0 + e[i].D1) / 2
			e[i].D1 = e[i].D0
		}
	}
	for i := 1; i < len(e); i++ {
		if !j.steps(ends[i]) {
			join(&e[i-1], &e[i])
		}
	}
}

// steps reports whether most of the pieces step at the model's station i. Each piece answers by itself: how far the
// pieces differ from one another says nothing of a step.
func (j *joint) steps(i int) bool {
	yes, all := 0.0, 0.0
	for k, s := range j.sides {
		m, ok := j.partner(k, i)
		if !ok || !m.before.seen || !m.after.seen {
			continue
		}
		all += j.weight(k)
		if s.piece.stepsAt(m) {
			yes += j.weight(k)
		}
	}
	if all == 0 {
		model := j.sides[j.model]
		return model.piece.stepsAt(model.marks[i])
	}
	return yes > all/2
}

// stepsAt reports whether the pattern's elements beside an edge differ there beyond their own uncertainty.
func (p Piece) stepsAt(m mark) bool {
	if !m.before.ok || !m.after.ok {
		return false
	}
	a, b := p.Pattern.Elements[m.before.element], p.Pattern.Elements[m.after.element]
	return math.Abs(a.D1-b.D0) >= math.Max(sameStep, math.Hypot(a.U.D1, b.U.D0))
}

func join(a, b *profile.Element) {
	if fixed(*a) || fixed(*b) {
		return
	}
	switch {
	case levelled(*a) && levelled(*b):
	case levelled(*a):
		b.D0 = a.D1
	case levelled(*b):
		a.D1 = b.D0
	default:
		a.D1 = (a.D1 + b.D0) / 2
		b.D0 = a.D1
	}
}

func levelled(e profile.Element) bool { return e.Kind == profile.Fillet || e.Kind == profile.Cylinder }

func fixed(e profile.Element) bool { return e.Kind == profile.Square || e.Kind == profile.Shoulder }
