package plan

import "spindlestick/profile"

// swollen returns the pattern with every dimension across the grain multiplied by a factor; lengths, which run with
// the grain, stay (the Wood Handbook, chapter 4, puts longitudinal shrinkage at 0.1 to 0.2 % from green to dry).
func swollen(p profile.Pattern, factor float64) profile.Pattern {
	q := p.Clone()
	for i, e := range q.Elements {
		_, mid, named := e.Mid()
		e.D0 *= factor
		e.D1 *= factor
		e.Side *= factor
		e.InnerD *= factor
		e.Sagitta *= factor
		// An arc that ends square to the axis has no fuller one over a steeper chord: its crest falls short a little.
		if f, ok := e.WithMid(mid * factor); ok && named {
			e = f
		}
		q.Elements[i] = e
	}
	return q
}
