package profile

import (
	"fmt"
	"math"
)

// Reshape gives element i, and its twins, the sizes of shape: its diameters, its arc and its inner point, between the
// stations that they have. Kind and style stay.
func Reshape(p Pattern, i int, shape Element) (Pattern, error) {
	if i < 0 || i >= len(p.Elements) {
		return p, fmt.Errorf("reshape element %d: %w", i+1, ErrNoElement)
	}
	what := fmt.Sprintf("reshape element %d", i+1)
	e := p.Elements[i]
	q := p
	for _, l := range []Place{{i, NearEnd}, {i, FarEnd}} {
		d := shape.D0
		if l.Spot == FarEnd {
			d = shape.D1
		}
		if now, _ := q.Size(l); now == d || e.corner(l.Spot) {
			continue
		}
		if !(d > 0) || math.IsInf(d, 0) {
			return p, fmt.Errorf("%s: %w", what, ErrSize)
		}
		q, _ = q.withSizes(q.places(l), d)
	}
	q = q.Clone()
	model := q.Elements[i]
	model.Sagitta = shape.Sagitta
	if e.hasInner() {
		share := math.Max(0.01, math.Min(0.99, (shape.InnerX-shape.X0)/shape.Length()))
		model.InnerX, model.InnerD = model.X0+share*model.Length(), shape.InnerD
	}
	for _, t := range q.twins(i) {
		f := model
		if t.mirrored {
			f = model.mirrored(model.X0 + model.X1)
		}
		q.Elements[t.index] = f.onto(q.Elements[t.index])
	}
	return q.kept(p, i, what)
}
