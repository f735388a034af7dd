package profile_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"spindlestick/profile"
)

// tied is the spindle with the offer of a kind in force.
func tied(t *testing.T, kind profile.TieKind) profile.Pattern {
	t.Helper()
	for _, o := range profile.Offers(spindle()) {
		if o.Kind != kind {
			continue
		}
		q, err := profile.AddTie(spindle(), o)
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	t.Fatalf("no tie of kind %s is offered", kind)
	return profile.Pattern{}
}

func TestOffersFindTheMirrorPair(t *testing.T) {
	p := spindle()
	offers := profile.Offers(p)
	if len(offers) == 0 || offers[0].Kind != profile.Mirrored || offers[0].Count != 4 || offers[0].Groups[0] != 1 || offers[0].Groups[1] != 6 {
		t.Fatalf("the longest group is offered as %+v, want elements 2-5 and 7-10 as mirror images", offers)
	}
	if len(p.Ties) != 0 {
		t.Error("an offer was put in force")
	}
}

// What is not alike within its uncertainty is not offered.
func TestOffersLeaveOutWhatDiffers(t *testing.T) {
	p := spindle()
	p, err := profile.SetMid(p, 2, 27)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range profile.Offers(p) {
		if len(o.Groups) > 0 && o.Count > 2 {
			t.Errorf("beads of 25 and 27 mm are offered as twins: %+v", o)
		}
	}
}

func TestMirrorTieMovesTheTwin(t *testing.T) {
	p := tied(t, profile.Mirrored)
	if p.Length != 200 {
		t.Errorf("the tie changed the length to %v", p.Length)
	}
	within(t, "fillets at their mean", p.Elements[1].D0, (18+18+18.1+17.9)/4, 0.06)
	// The bead's near station is the far station of its image.
	q, err := profile.MoveStation(p, 2, p.Elements[1].X1+0.5)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "the image's station", q.Elements[8].X1, p.Elements[8].X1-0.5, 1e-9)
	if q.Elements[9].X1 != p.Elements[9].X1 {
		t.Error("what stands beyond the group moved")
	}
	if q, err = profile.SetMid(q, 8, 26); err != nil {
		t.Fatal(err)
	}
	_, d, _ := q.Elements[2].Mid()
	within(t, "the twin's crest", d, 26, 1e-6)
	if q, err = profile.SetKind(q, 4, profile.Taper); err != nil || q.Elements[6].Kind != profile.Taper {
		t.Errorf("the image of the ogee is a %s: %v", q.Elements[6].Kind, err)
	}
	if q, err = profile.Split(q, 2, 48); err != nil || len(q.Elements) != 14 || q.Ties[0].Count != 5 {
		t.Errorf("splitting one bead gives %d elements, ties %+v: %v", len(q.Elements), q.Ties, err)
	}
	if q, err = profile.Delete(q, 1); err != nil || len(q.Elements) != 12 {
		t.Errorf("deleting one fillet leaves %d elements: %v", len(q.Elements), err)
	}
}

func TestRepeatTieHoldsThreeBeads(t *testing.T) {
	row := profile.Pattern{Length: 100}
	x := 0.0
	for i, w := range []float64{20, 8, 12, 8.1, 12, 7.9, 32} {
		e := profile.Element{Kind: profile.Cylinder, X0: x, X1: x + w, D0: 20, D1: 20}
		if i%2 == 1 {
			e.Kind, e.Sagitta = profile.Bead, w/3
		}
		row.Elements = append(row.Elements, e)
		x += w
	}
	for _, o := range profile.Offers(row) {
		if o.Kind != profile.Repeated || o.Count != 1 {
			continue
		}
		if len(o.Groups) != 3 {
			t.Fatalf("three beads are offered as %+v", o)
		}
		q, err := profile.AddTie(row, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range []int{1, 3, 5} {
			within(t, "width", q.Elements[k].Length(), 8, 0.06)
		}
		return
	}
	t.Fatalf("no row of beads among %+v", profile.Offers(row))
}

func TestTangentTieBendsTheArc(t *testing.T) {
	p := profile.Pattern{Length: 60, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 20, D0: 30, D1: 30},
		{Kind: profile.HalfBead, X0: 20, X1: 30, D0: 30, D1: 16, Sagitta: 1.9},
		{Kind: profile.Cylinder, X0: 30, X1: 60, D0: 16, D1: 16},
	}}
	q, err := profile.AddTie(p, profile.Tie{Kind: profile.Tangent, Joint: 1})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "slope at the joint", q.Elements[1].Segments()[0].Slope(20), 0, 1e-6)
	if q, err = profile.MoveStation(q, 2, 33); err != nil {
		t.Fatal(err)
	}
	within(t, "slope after a move", q.Elements[1].Segments()[0].Slope(20), 0, 1e-6)
	if _, err := profile.AddTie(p, profile.Tie{Kind: profile.Tangent, Joint: 2}); err == nil {
		t.Error("a convex arc was made to leave a cylinder below it smoothly")
	}
}

func TestTiesRefuseWhatTheyForbid(t *testing.T) {
	p := spindle()
	p, err := profile.AddTie(p, profile.Tie{Kind: profile.Mirrored, Groups: []int{1, 3}, Count: 1})
	if err != nil {
		t.Fatal(err)
	}
	q, err := profile.AddTie(p, profile.Tie{Kind: profile.Equal, Places: []profile.Place{{1, profile.NearEnd}, {11, profile.NearEnd}}})
	if err != nil {
		t.Fatal(err)
	}
	if q, err = profile.SetDiameter(q, 3, profile.Near, 17); err != nil || q.Elements[11].D1 != 17 || q.Elements[1].D0 != 17 {
		t.Errorf("fillets %v and tenon %v: %v", q.Elements[1].D0, q.Elements[11].D1, err)
	}
	beads := profile.Pattern{Length: 20, Elements: []profile.Element{
		{Kind: profile.Bead, X0: 0, X1: 10, D0: 20, D1: 20, Sagitta: 3}, {Kind: profile.Bead, X0: 10, X1: 20, D0: 20, D1: 20, Sagitta: 3},
	}}
	if beads, err = profile.AddTie(beads, profile.Tie{Kind: profile.Mirrored, Groups: []int{0, 1}, Count: 1}); err != nil {
		t.Fatal(err)
	}
	if _, err := profile.MoveStation(beads, 1, 11); !errors.Is(err, profile.ErrTied) {
		t.Errorf("moving the middle of a mirror pair that fills the piece: %v", err)
	}
	for _, bad := range []profile.Tie{
		{}, {Kind: profile.Equal}, {Kind: profile.Tangent, Joint: 0}, {Kind: profile.Mirrored, Groups: []int{0, 9}, Count: 9},
		{Kind: profile.Repeated, Groups: []int{3, 1}, Count: 1}, {Kind: profile.Repeated, Groups: []int{0, 2}, Count: 1},
	} {
		if _, err := profile.AddTie(spindle(), bad); err == nil {
			t.Errorf("%+v was accepted", bad)
		}
	}
}

func TestTiesAreInTheFile(t *testing.T) {
	p := tied(t, profile.Mirrored)
	var b strings.Builder
	if err := profile.WritePattern(&b, p); err != nil {
		t.Fatal(err)
	}
	q, err := profile.ReadPattern(strings.NewReader(b.String()))
	if err != nil || len(q.Ties) != 1 || !q.Holds(q.Ties[0]) {
		t.Errorf("read back %+v: %v", q.Ties, err)
	}
}

// A turning that is its own mirror image, broken off in its second half, comes back whole.
func TestCompleteRestoresABrokenHalf(t *testing.T) {
	p, err := profile.AddTie(spindle(), profile.Offers(spindle())[0])
	if err != nil {
		t.Fatal(err)
	}
	half := append([]profile.Element(nil), p.Elements[:6]...)
	mid := (half[5].X0 + half[5].X1) / 2
	truth := profile.Pattern{Length: 2 * mid, Elements: half}
	for i := 4; i >= 0; i-- {
		e := profile.Mirror(profile.Pattern{Length: 2 * mid, Elements: []profile.Element{half[i]}}).Elements[0]
		e.X0, e.X1 = 2*mid-half[i].X1, 2*mid-half[i].X0
		truth.Elements = append(truth.Elements, e)
	}
	if err := truth.Validate(); err != nil {
		t.Fatal(err)
	}
	broken, err := profile.Split(truth, 8, truth.Elements[8].X0+2)
	if err != nil {
		t.Fatal(err)
	}
	broken.Elements = broken.Elements[:9]
	broken.Length = broken.Elements[8].X1
	whole, err := profile.Complete(broken, mid)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "length", whole.Length, truth.Length, 1e-9)
	for x := 0.0; x < truth.Length; x += 0.37 {
		got, _ := whole.DiameterAt(x)
		want, _ := truth.DiameterAt(x)
		if math.Abs(got-want) > 0.01 {
			t.Errorf("diameter %.3f at %.2f, want %.3f", got, x, want)
		}
	}
	if s := whole.Elements[8].State; s != profile.Inferred {
		t.Errorf("what was broken is %q", s)
	}
	if whole.Elements[7].State == profile.Inferred {
		t.Error("what was measured is called inferred")
	}
	if _, err := profile.Complete(truth, mid); !errors.Is(err, profile.ErrMirror) {
		t.Errorf("completing a whole piece: %v", err)
	}
}

// Of two half-coves that are each other's mirror image, one may turn level just inside its end and the other not.
func TestMirrorTieOfHalves(t *testing.T) {
	p := profile.Pattern{Length: 60, Elements: []profile.Element{
		{Kind: profile.HalfCove, X0: 0, X1: 10, D0: 40, D1: 30, Sagitta: -1.6}, {Kind: profile.Cylinder, X0: 10, X1: 50, D0: 30, D1: 30},
		{Kind: profile.HalfCove, X0: 50, X1: 60, D0: 30, D1: 40, Sagitta: -1.2},
	}}
	_, inside := p.Size(profile.Place{Element: 0, Spot: profile.Middle})
	_, outside := p.Size(profile.Place{Element: 2, Spot: profile.Middle})
	if !inside || outside {
		t.Fatal("the example does not show what it should")
	}
	q, err := profile.AddTie(p, profile.Tie{Kind: profile.Mirrored, Groups: []int{0, 2}, Count: 1})
	if err != nil || !q.Holds(q.Ties[0]) {
		t.Errorf("%+v: %v", q.Ties, err)
	}
}
