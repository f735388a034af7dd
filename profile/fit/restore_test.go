package fit

import (
	"math"
	"testing"

	"spindlestick/profile"
)

// stepped is a trace of a foot of 17 mm, 19 mm long, before a fillet of 36 mm, 3 mm long, and a run of 40 mm. smear slopes
// the steps as a rim in perspective does.
func stepped(smear float64) profile.Trace {
	t := profile.Trace{Length: 60}
	for x := 0.0; x <= 60; x += 0.25 {
		d, state := 17.0, profile.Visible
		switch {
		case x > 22:
			d = 40
		case x > 19:
			d = 36
		case x > 19-smear:
			d, state = 17+(x-19+smear)/smear*19, profile.Hidden
		}
		t.Samples = append(t.Samples, profile.Sample{X: x, R: d / 2, U: 0.1, State: state, Sides: [2]float64{d / 2, d / 2}})
	}
	return t
}

func TestRestoredPutsASwallowedFilletBack(t *testing.T) {
	p := profile.Pattern{Length: 60, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 22, D0: 17, D1: 17}, {Kind: profile.Cylinder, X0: 22, X1: 60, D0: 40, D1: 40},
	}}
	for _, smear := range []float64{0.5, 4} {
		q := restored(p, stepped(smear))
		if len(q.Elements) != 3 || q.Elements[1].Kind != profile.Fillet || math.Abs(q.Elements[1].X0-19) > 0.3 || math.Abs(q.Elements[1].D0-36) > 0.1 {
			t.Errorf("smeared over %.1f mm: %+v", smear, q.Elements)
		}
	}
	right := profile.Pattern{Length: 60, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 19, D0: 17, D1: 17}, {Kind: profile.Fillet, X0: 19, X1: 22, D0: 36, D1: 36},
		{Kind: profile.Cylinder, X0: 22, X1: 60, D0: 40, D1: 40},
	}}
	if q := restored(right, stepped(4)); len(q.Elements) != 3 {
		t.Errorf("a right pattern got %d elements", len(q.Elements))
	}
}

// The outline of a rim, though it stands off as far, is no fillet.
func TestRestoredLeavesSmearsAlone(t *testing.T) {
	tr := stepped(4)
	for i := range tr.Samples {
		tr.Samples[i].State = profile.Visible
		if s := &tr.Samples[i]; s.X > 15 && s.X < 22 {
			s.R = 8.5 + (s.X-15)/7*11.5
		}
	}
	p := profile.Pattern{Length: 60, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 22, D0: 17, D1: 17}, {Kind: profile.Cylinder, X0: 22, X1: 60, D0: 40, D1: 40},
	}}
	if q := restored(p, tr); len(q.Elements) != 2 {
		t.Errorf("%+v", q.Elements)
	}
}
