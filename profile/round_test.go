package profile_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"spindlestick/profile"
)

func TestRoundingSteps(t *testing.T) {
	for r, want := range map[profile.Rounding]float64{
		profile.AsMeasured: 0, profile.SixtyFourths: 25.4 / 64, profile.ThirtySecond: 25.4 / 32, profile.Sixteenths: 25.4 / 16,
		profile.Tenths: 0.1, profile.Halves: 0.5, profile.Millimetres: 1,
	} {
		within(t, string(r), r.Step(), want, 1e-12)
		if got, err := profile.ParseRounding(string(r)); got != r || err != nil {
			t.Errorf("%q reads as %q: %v", r, got, err)
		}
	}
	if r, err := profile.ParseRounding(" 1/16 IN "); r != profile.Sixteenths || err != nil {
		t.Errorf("1/16 IN reads as %q: %v", r, err)
	}
	if _, err := profile.ParseRounding("3mm"); err == nil {
		t.Error("a rounding of 3 mm was accepted")
	}
}

func TestRoundedToMillimetres(t *testing.T) {
	p := spindle()
	q, report, err := profile.Pattern.Rounded(p, profile.Millimetres)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 40, 43, 52, 55, 75, 120, 140, 143, 152, 155, 165} {
		within(t, "station", q.Elements[i].X0, want, 1e-9)
	}
	if d := q.Elements[3].D0; d != 18 {
		t.Errorf("the fillet of 18.1 mm became %v", d)
	}
	_, crest, _ := q.Elements[8].Mid()
	within(t, "crest of 24.8", crest, 25, 1e-6)
	if most := profile.Largest(report); most > 0.5 {
		t.Errorf("something moved by %.3f mm, more than half a step: %+v", most, report)
	}
	if d := cmp.Diff(spindle(), p); d != "" {
		t.Errorf("the measured pattern changed: %s", d)
	}
}

// Two beads of 8.3 and 8.4 mm that are tied round to one width, wherever they stand; what that moves farther is said.
func TestRoundingKeepsTiesAndSaysSo(t *testing.T) {
	p := tied(t, profile.Mirrored)
	q, report, err := p.Rounded(profile.Sixteenths)
	if err != nil {
		t.Fatal(err)
	}
	if !q.Holds(p.Ties[0]) {
		t.Error("the tie does not hold after rounding")
	}
	half := profile.Sixteenths.Step() / 2
	for _, m := range report {
		if m.By() > half+1e-6 && m.Cause == profile.ByStep {
			t.Errorf("%+v moved by %.2f mm, and no cause is given", m, m.By())
		}
	}
}

// A fillet shorter than the step stays one step long.
func TestRoundingLeavesNoElementOut(t *testing.T) {
	p := profile.Pattern{Length: 30, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 10.6, D0: 20, D1: 20},
		{Kind: profile.Fillet, X0: 10.6, X1: 11.2, D0: 16, D1: 16},
		{Kind: profile.Bead, X0: 11.2, X1: 15, D0: 16, D1: 16, Sagitta: 0.2},
		{Kind: profile.Cylinder, X0: 15, X1: 30, D0: 20, D1: 20},
	}}
	q, report, err := p.Rounded(profile.Millimetres)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "the fillet", q.Elements[1].Length(), 1, 1e-9)
	_, crest, _ := q.Elements[2].Mid()
	within(t, "the bead's crest", crest, 17, 1e-6)
	causes := map[profile.Cause]int{}
	for _, m := range report {
		causes[m.Cause]++
	}
	if causes[profile.ByRoom] == 0 {
		t.Errorf("the report does not say that room was kept: %+v", report)
	}
	p.Elements[0].X1, p.Elements[1].X0, p.Elements[1].X1, p.Elements[2].X0, p.Elements[2].X1, p.Elements[3].X0, p.Elements[3].X1, p.Length = 1, 1, 1.5, 1.5, 2, 2, 2.5, 2.5
	if _, _, err := p.Rounded(profile.Sixteenths); !errors.Is(err, profile.ErrRound) {
		t.Errorf("four elements in 2.5 mm were rounded to 1/16 in: %v", err)
	}
}

// TestRoundedPatterns: for every step and whatever was edited and tied before, the overall length stays, stations and
// diameters are multiples of the step unless the report says why not, ties hold, and nothing moves by more than half a step
// without a cause.
func TestRoundedPatterns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]profile.Pattern{stool(), spindle()}).Draw(t, "piece")
		for range rapid.IntRange(0, 6).Draw(t, "edits") {
			if q, _, err := edit(t, p); err == nil {
				p = q
			}
		}
		r := rapid.SampledFrom(profile.Roundings()).Draw(t, "rounding")
		q, report, err := p.Rounded(r)
		if err != nil {
			if !errors.Is(err, profile.ErrRound) {
				t.Fatal(err)
			}
			return
		}
		rounded(t, p, q, report, r.Step())
	})
}

func rounded(t *rapid.T, p, q profile.Pattern, report []profile.Moved, step float64) {
	if q.Length != p.Length || len(q.Elements) != len(p.Elements) {
		t.Fatalf("the length went from %v to %v, the elements from %d to %d", p.Length, q.Length, len(p.Elements), len(q.Elements))
	}
	for _, tie := range p.Ties {
		if p.Holds(tie) && !q.Holds(tie) {
			t.Fatalf("%+v does not hold", tie)
		}
	}
	for _, m := range report {
		if m.By() > step/2+1e-6 && m.Cause == profile.ByStep {
			t.Fatalf("%+v has no cause, step %v", m, step)
		}
	}
	whole := func(v float64) bool { return math.Abs(v/step-math.Round(v/step)) < 1e-6 }
	for i, e := range q.Elements {
		if len(p.Ties) == 0 && !whole(e.X0) {
			t.Fatalf("station %d is %v steps", i+1, e.X0/step)
		}
		if e.Kind == profile.Shoulder || e.D0 == 0 || e.D1 == 0 {
			continue
		}
		if !whole(e.D0) || !whole(e.D1) {
			t.Fatalf("element %d (%s) has %v and %v steps", i+1, e.Kind, e.D0/step, e.D1/step)
		}
	}
}

// The bottom of a vee that was tied to the crest of a bead once took the bead down with it when they were rounded.
func TestRoundingOfATiedCrestAndBottom(t *testing.T) {
	p := stool()
	p.Elements[8].InnerD = 27.6
	p.Elements[8].D0, p.Elements[8].D1, p.Elements[7].D1, p.Elements[9].D0, p.Elements[9].D1 = 40, 40, 40, 40, 40
	p, err := profile.AddTie(p, profile.Tie{Kind: profile.Equal, Places: []profile.Place{{Element: 3, Spot: profile.Middle}, {Element: 8, Spot: profile.Middle}}})
	if err != nil {
		t.Fatal(err)
	}
	q, _, err := p.Rounded(profile.Millimetres)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{3, 8} {
		d, _ := q.Size(profile.Place{Element: i, Spot: profile.Middle})
		within(t, "rounded", d, 28, 1e-6)
	}
}

// A bead tied to the fillet it stands on has no height; it stays a bead in name, and the tie holds.
func TestRoundingOfABeadTiedToItsFillet(t *testing.T) {
	p := stool()
	p.Elements[3].Sagitta = 0.05
	p, err := profile.AddTie(p, profile.Tie{Kind: profile.Equal, Places: []profile.Place{{Element: 3, Spot: profile.Middle}, {Element: 5, Spot: profile.NearEnd}}})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := p.Rounded(profile.Millimetres); err != nil {
		t.Error(err)
	}
}
