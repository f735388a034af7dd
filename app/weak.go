package app

import (
	"math"
	"slices"

	"fyne.io/fyne/v2/lang"

	"spindlestick/profile"
	"spindlestick/profile/check"
)

// weakDiameter is from where a diameter is called weak, mm: known less well than half of what copies are held to, it cannot
// judge them.
func weakDiameter() float64 { return check.DefaultTolerance().Diameter / 2 }

const (
	// weakFit is how far a shape may lie from what was measured, mm of radius: twice a pixel's size on the usual photograph.
	weakFit = 0.25
	// mainShare is from what share of an uncertainty one cause is named as the reason.
	mainShare = 0.5
)

// weakness is why an element's numbers should not be trusted as they stand.
type weakness struct {
	word string // for the table
	why  string // a sentence, with what to do
}

// weaknessOf tells what is weak about element i; an empty one says that nothing is. The reason is read from the trace under it.
func weaknessOf(p profile.Pattern, t profile.Trace, i int, u profile.Unit) weakness {
	e := p.Elements[i]
	switch e.State {
	case profile.Hidden:
		return weakness{lang.L("hidden"), lang.L("Larger parts stand in front of it: measure it with calipers.")}
	case profile.Inferred:
		return weakness{lang.L("inferred"), lang.L("It was not seen and follows from what stands beside it: measure it with calipers.")}
	case profile.Damaged:
		return weakness{lang.L("damaged"), lang.L("The two sides disagree here: the one further out was taken, as wear only takes away.")}
	}
	if worst := worstOf(e); worst > weakDiameter() {
		return weakness{lang.L("weak"), phrase("±{{.U}}: {{.Why}}", "U", fine(worst, u), "Why", reasonOf(t, e, worst))}
	}
	if e.Residual > weakFit {
		return weakness{lang.L("weak"), phrase("The shape lies {{.Off}} off what was measured: see whether another shape fits.", "Off", fine(e.Residual, u))}
	}
	return weakness{}
}

// worstOf is the largest uncertainty among an element's diameters, mm.
func worstOf(e profile.Element) float64 { return max(e.U.D0, e.U.D1, e.U.Mid) }

// reasonOf names what makes an element's uncertainty large, and what would make it smaller.
func reasonOf(t profile.Trace, e profile.Element, worst float64) string {
	var sides, shared []float64
	for _, s := range t.Samples {
		if s.X >= e.X0 && s.X <= e.X1 && s.State == profile.Visible {
			sides, shared = append(sides, math.Abs(s.Sides[0]-s.Sides[1])), append(shared, s.Shared)
		}
	}
	const least = 3 // samples from which something can be said
	switch {
	case len(sides) < least:
		return lang.L("hardly a point of it was seen; measure it with calipers.")
	case middle(sides) > mainShare*worst:
		return lang.L("the two sides differ, as on an oval, worn or one-sidedly lit piece; measure across both ways.")
	case middle(shared) > mainShare*worst:
		return lang.L("scale, camera or height are not known well enough; a caliper diameter under Scale helps.")
	}
	return lang.L("few clear points lie on it; look at its edge in the photograph, or measure it with calipers.")
}

// middle is the median.
func middle(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}

// fine writes a small length with its unit: fractions are too coarse for it.
func fine(mm float64, u profile.Unit) string {
	if u == profile.Fraction {
		u = profile.Inch
	}
	return long(mm, u)
}

// weaknesses are those of all elements, in order. They are worked out once a change.
func (m *model) weaknesses() []weakness {
	p := m.pattern()
	if m.weak == nil {
		m.weak = make([]weakness, len(p.Elements))
		for i := range p.Elements {
			m.weak[i] = weaknessOf(p, m.job.Measurement.Trace, i, m.unit)
		}
	}
	return m.weak
}

// weakOnes are the elements with something weak about them.
func (m *model) weakOnes() []int {
	var out []int
	for i, w := range m.weaknesses() {
		if w.word != "" {
			out = append(out, i)
		}
	}
	return out
}

// nextWeak selects the next element with something weak about it.
func (m *model) nextWeak() {
	weak := m.weakOnes()
	if len(weak) == 0 {
		return
	}
	at := weak[0]
	for _, i := range weak {
		if i > m.selected {
			at = i
			break
		}
	}
	m.selectElement(at)
}
