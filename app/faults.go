package app

import (
	"errors"

	"spindlestick/profile/view"
)

// Fault says which step puts right what went wrong.
type Fault int

// The steps that can put something right.
const (
	FaultPhoto   Fault = iota // another photograph
	FaultScale                // the Scale step: boards, rule, known sizes, height
	FaultOutline              // the Outline step: the ends of the piece
)

// step is the step that puts the fault right.
func (f Fault) step() step {
	return map[Fault]step{FaultPhoto: stepPhoto, FaultScale: stepScale, FaultOutline: stepOutline}[f]
}

// faultOf sorts an error of a trace by what helps.
func (w *Window) faultOf(err error) Fault {
	for _, known := range []struct {
		err   error
		fault Fault
	}{
		{view.ErrNoScale, FaultScale}, {view.ErrReference, FaultScale}, {view.ErrKnown, FaultScale}, {view.ErrHeight, FaultScale},
		{view.ErrCalibration, FaultScale}, {view.ErrSides, FaultOutline}, {view.ErrAxis, FaultOutline},
	} {
		if errors.Is(err, known.err) {
			return known.fault
		}
	}
	if w.services.Fault != nil {
		return w.services.Fault(err)
	}
	return FaultPhoto
}

// fail shows what went wrong with a trace in the step that puts it right.
func (w *Window) fail(err error) {
	s := w.faultOf(err).step()
	w.model.fault = fault{s, plainly(err)}
	w.model.changed()
	w.showStep(s)
	w.say(plainly(err))
}

// fault is what went wrong last; an empty one says that nothing did.
type fault struct {
	step step
	why  string
}
