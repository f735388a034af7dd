package check

import (
	"math"

	"spindlestick/profile"
)

// build makes the pattern of the robust means, on the model's elements.
func (j *joint) build() (profile.Pattern, Spread) {
	model := j.sides[j.model]
	p, s := model.piece.Pattern.Clone(), Spread{Model: j.index[j.model]}
	at, variance := 0.0, 0.0
	ends := edgesOf(model.marks)
	for i := range p.Elements {
		e := &p.Elements[i]
		old := *e
		l := agree(at, string(e.Kind)+", length", j.lengths(ends[i], ends[i+1]))
		variance += square(2*l.Scatter) / float64(len(l.Words))
		stretchTo(e, at, l.Value)
		e.U.X1 = j.place(ends[i+1], variance)
		if i > 0 {
			e.U.X0 = p.Elements[i-1].U.X1
		}
		at = e.X1
		s.Lengths = append(s.Lengths, l)
		s.Diameters = append(s.Diameters, j.size(e, old, ends[i], ends[i+1])...)
		e.State, e.Residual = profile.Visible, 0
	}
	settle(p.Elements, model.piece.Pattern.Elements)
	p.Length, p.ULength = at, p.Elements[len(p.Elements)-1].U.X1
	return p, s
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

// size gives an element the robust means of its diameters; old is the model's.
func (j *joint) size(e *profile.Element, old profile.Element, from, to int) []Agreement {
	d0 := agree(e.X0, string(e.Kind)+", start", j.diameters(from, func(m mark) face { return m.after }))
	d1 := agree(e.X1, string(e.Kind)+", end", j.diameters(to, func(m mark) face { return m.before }))
	e.D0, e.U.D0, e.D1, e.U.D1 = d0.Value, d0.U, d1.Value, d1.U
	sizeSquare(e)
	if to == from+1 {
		return []Agreement{d0, d1}
	}
	mid := agree(0, string(e.Kind)+", middle", j.diameters(from+1, func(m mark) face { return m.after }))
	if made, ok := e.WithMid(mid.Value); ok {
		*e = made
	}
	e.U.Mid = mid.U
	mid.X, _, _ = e.Mid()
	if m := j.sides[j.model].marks[from+1]; m.role != profile.Edge {
		mid.What = string(e.Kind) + ", " + string(m.role)
	}
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

// settle makes cylinders and fillets level again, and joins their neighbours to them where the model had no step.
func settle(made, model []profile.Element) {
	level := func(e profile.Element) bool { return e.Kind == profile.Fillet || e.Kind == profile.Cylinder }
	for i := range made {
		if e := &made[i]; level(*e) && math.Abs(model[i].D0-model[i].D1) < sameStep {
			e.D0 = (e.D0 + e.D1) / 2
			e.D1 = e.D0
		}
	}
	for i := 1; i < len(made); i++ {
		a, b := &made[i-1], &made[i]
		if math.Abs(model[i-1].D1-model[i].D0) >= sameStep || fixed(*a) || fixed(*b) {
			continue
		}
		switch {
		case level(*a) && level(*b):
		case level(*a):
			b.D0 = a.D1
		case level(*b):
			a.D1 = b.D0
		default:
			a.D1 = (a.D1 + b.D0) / 2
			b.D0 = a.D1
		}
	}
}

func fixed(e profile.Element) bool { return e.Kind == profile.Square || e.Kind == profile.Shoulder }
