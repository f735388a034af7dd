package fit

import (
	"math"
	"testing"

	"spindlestick/profile"
)

// swallowed is a tenon of 40 mm diameter and the fillet of 62 mm beside it, whose neighbourhood is hidden, and a pattern in which
// one cylinder has swallowed both.
func swallowed() (profile.Pattern, profile.Trace) {
	t := profile.Trace{Length: 60}
	for x := 0.0; x <= 60; x += 0.25 {
		s := profile.Sample{X: x, R: 20, U: 0.1, State: profile.Visible}
		switch {
		case x > 8 && x < 20:
			s.R, s.State = 26, profile.Hidden
		case x >= 20:
			s.R = 31
		}
		t.Samples = append(t.Samples, s)
	}
	return profile.Pattern{Length: 60, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 20, D0: 59, D1: 59},
		{Kind: profile.Cylinder, X0: 20, X1: 60, D0: 62, D1: 62},
	}}, t
}

func TestWhatIsPlainlySeenStands(t *testing.T) {
	p, trace := swallowed()
	if got := grossLength(p, trace); math.Abs(got-7.25) > 0.5 {
		t.Errorf("%.2f mm depart grossly, want the 7 mm of the tenon that are seen", got)
	}
	q := settleFlats(p, trace)
	if q.Elements[0].D0 != 40 || q.Elements[0].D1 != 40 || q.Elements[1].D0 != 62 {
		t.Errorf("settled to %v and %v, want 40 and 62", q.Elements[0].D0, q.Elements[1].D0)
	}
	if got := grossLength(q, trace); got != 0 {
		t.Errorf("%.2f mm still depart", got)
	}
	if p.Elements[0].D0 != 59 {
		t.Error("the argument was changed")
	}
}
