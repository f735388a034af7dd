package profile_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"spindlestick/profile"
)

// spindle is a turning whose two bead groups are nearly each other's mirror image, as a hand leaves them.
func spindle() profile.Pattern {
	u := profile.Bounds{X0: 0.3, X1: 0.3, D0: 0.2, D1: 0.2, Mid: 0.2}
	es := []profile.Element{
		{Kind: profile.Cylinder, X1: 40, D0: 20, D1: 20},
		{Kind: profile.Fillet, X1: 43, D0: 18, D1: 18},
		{Kind: profile.Bead, X1: 52, D0: 18, D1: 18, Sagitta: 3.5},
		{Kind: profile.Fillet, X1: 54.8, D0: 18.1, D1: 18.1},
		{Kind: profile.Ogee, X1: 75, D0: 18.1, D1: 28, InnerX: 65, InnerD: 23, Sagitta: -1},
		{Kind: profile.Taper, X1: 120, D0: 28, D1: 27.8},
		{Kind: profile.Ogee, X1: 140.3, D0: 27.8, D1: 18, InnerX: 130, InnerD: 23, Sagitta: 1},
		{Kind: profile.Fillet, X1: 143, D0: 18, D1: 18},
		{Kind: profile.Bead, X1: 152.2, D0: 18, D1: 18, Sagitta: 3.4},
		{Kind: profile.Fillet, X1: 155, D0: 17.9, D1: 17.9},
		{Kind: profile.HalfCove, X1: 165, D0: 17.9, D1: 14, Sagitta: -0.95},
		{Kind: profile.Cylinder, X1: 200, D0: 14, D1: 14},
	}
	x := 0.0
	for i := range es {
		es[i].X0, es[i].U = x, u
		x = es[i].X1
	}
	return profile.Pattern{Length: 200, Elements: es}
}

// edit is a random operation: its result, and whether it may change the overall length.
func edit(t *rapid.T, p profile.Pattern) (q profile.Pattern, longer bool, err error) {
	n := len(p.Elements)
	i := rapid.IntRange(-1, n).Draw(t, "index")
	x := rapid.Float64Range(-10, p.Length+10).Draw(t, "x")
	d := rapid.Float64Range(-2, 60).Draw(t, "d")
	k := rapid.SampledFrom(profile.Kinds()).Draw(t, "kind")
	near := func(v float64) float64 { return v + rapid.Float64Range(-1, 1).Draw(t, "by") }
	switch rapid.IntRange(0, 12).Draw(t, "edit") {
	case 0:
		if i > 0 && i < n {
			x = near(p.Elements[i].X0)
		}
		q, err = profile.MoveStation(p, i, x)
		return q, i == n, err
	case 1:
		q, err = profile.SetDiameter(p, i, profile.End(rapid.IntRange(0, 1).Draw(t, "end")), d)
	case 2:
		if mid, ok := p.Size(profile.Place{Element: i, Spot: profile.Middle}); ok {
			d = near(mid)
		}
		q, err = profile.SetMid(p, i, d)
	case 3:
		q, err = profile.SetKind(p, i, k)
	case 4:
		if i >= 0 && i < n {
			x = (p.Elements[i].X0 + p.Elements[i].X1) / 2
		}
		q, err = profile.Split(p, i, x)
	case 5:
		q, err = profile.Merge(p, i)
	case 6:
		q, err = profile.Insert(p, k, x, x+rapid.Float64Range(0, 8).Draw(t, "width"))
	case 7:
		q, err = profile.Delete(p, i)
	case 8:
		q = profile.Mirror(p)
	case 9:
		q, err = profile.Append(p, k, x/4, d)
		return q, true, err
	case 10:
		q, err = profile.Complete(p, x)
		return q, true, err
	case 11:
		q, err = profile.RemoveTie(p, i)
	default:
		offers := profile.Offers(p)
		if len(offers) == 0 {
			return p, false, nil
		}
		q, err = profile.AddTie(p, rapid.SampledFrom(offers).Draw(t, "offer"))
	}
	return q, false, err
}

// TestEditsKeepThePatternSound: whatever edits succeed, in any order, the pattern stays sound, the one edited is left as
// it was, the overall length stays unless it was the length that was edited, ties stay kept, and each edit is undone to
// the last bit by its inverse.
func TestEditsKeepThePatternSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]profile.Pattern{stool(), spindle()}).Draw(t, "piece")
		for range rapid.IntRange(1, 12).Draw(t, "edits") {
			before := p.Clone()
			q, longer, err := edit(t, p)
			if d := cmp.Diff(before, p); d != "" {
				t.Fatalf("the edit changed its argument: %s", d)
			}
			if err != nil {
				continue
			}
			sound(t, p, q, longer)
			p = q
		}
	})
}

func sound(t *rapid.T, p, q profile.Pattern, longer bool) {
	if err := q.Validate(); err != nil {
		t.Fatal(err)
	}
	if !longer && math.Abs(q.Length-p.Length) > 1e-9 {
		t.Fatalf("the length went from %v to %v", p.Length, q.Length)
	}
	for i, tie := range q.Ties {
		if !q.Holds(tie) {
			t.Fatalf("tie %d (%+v) does not hold after the edit", i, tie)
		}
	}
	for i := 1; i < len(q.Elements); i++ {
		if q.Elements[i].X0-q.Elements[i-1].X1 != 0 {
			t.Fatalf("element %d starts at %v, the one before ends at %v", i+1, q.Elements[i].X0, q.Elements[i-1].X1)
		}
	}
	c := profile.Between(p, q)
	again, err := c.Apply(p)
	if err != nil || cmp.Diff(q, again) != "" {
		t.Fatalf("the change does not lead there: %v, %s", err, cmp.Diff(q, again))
	}
	back, err := c.Inverse().Apply(q)
	if err != nil || cmp.Diff(p, back) != "" {
		t.Fatalf("the inverse does not lead back: %v, %s", err, cmp.Diff(p, back))
	}
}
