package view

import (
	"errors"
	"fmt"
)

// ErrMeasure is wrapped by every error of Measure.
var ErrMeasure = errors.New("the piece cannot be measured")

// Measure turns what was seen in a photograph into millimetres: the camera from the reference, the axis from the
// outline's symmetry and the way the piece lies, the meridian from the outline's rays.
func Measure(s Sighting, h Hints) (Measurement, error) {
	ref, err := reference(s, h)
	if err != nil {
		return Measurement{}, fmt.Errorf("%w: %w", ErrMeasure, err)
	}
	m, err := measureWith(ref, s.Outline, h)
	if err != nil {
		return m, fmt.Errorf("%w: %w", ErrMeasure, err)
	}
	return m, nil
}

// measureWith measures an outline with a reference.
func measureWith(ref Reference, o Outline, h Hints) (Measurement, error) {
	sil := newSilhouette(o)
	at, err := sil.place(ref, h.Height)
	if err != nil {
		return Measurement{}, err
	}
	m := Measurement{Scene: at.scene, Outline: o, Trace: at.trace()}
	return m, nil
}

// newSilhouette smooths an outline.
func newSilhouette(o Outline) silhouette {
	s := silhouette{rough: o.Axis, ends: o.Ends}
	for i := range s.sides {
		s.sides[i] = smooth(o.Sides[i])
	}
	return s
}
