package job

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// Complete replaces what is broken off an end by the mirror image of the other half about station about, mm; see
// profile.Complete. At the hook end the new end becomes zero, and the measurement moves with what it measured.
func (j Job) Complete(end profile.End, about float64) (Job, error) {
	if end == profile.Near {
		about = j.Pattern.Length - about
	}
	return j.extended(end, func(p profile.Pattern) (profile.Pattern, error) { return profile.Complete(p, about) })
}

// Append adds an element at an end by hand; see profile.Append.
func (j Job) Append(end profile.End, k profile.Kind, length, d float64) (Job, error) {
	return j.extended(end, func(p profile.Pattern) (profile.Pattern, error) { return profile.Append(p, k, length, d) })
}

// extended applies an edit of the far end to either end.
func (j Job) extended(end profile.End, edit func(profile.Pattern) (profile.Pattern, error)) (Job, error) {
	if end == profile.Far {
		p, err := edit(j.Pattern)
		j.Pattern = p
		return j, err
	}
	p, err := edit(profile.Mirror(j.Pattern))
	if err != nil {
		return j, err
	}
	by := p.Length - j.Pattern.Length
	j.Pattern = profile.Mirror(p)
	j.Measurement = shifted(j.Measurement, by)
	return j, nil
}

// shifted counts the stations of a measurement from by mm before its hook end.
func shifted(m view.Measurement, by float64) view.Measurement {
	m.Trace.Samples = slices.Clone(m.Trace.Samples)
	for i := range m.Trace.Samples {
		m.Trace.Samples[i].X += by
	}
	m.Trace.Length += by
	m.Squares = slices.Clone(m.Squares)
	for i := range m.Squares {
		m.Squares[i].X0 += by
		m.Squares[i].X1 += by
	}
	m.Scene.Axis.P = r3.Sub(m.Scene.Axis.P, r3.Scale(by, m.Scene.Axis.E))
	return m
}
