package profile_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"spindlestick/profile"
)

func TestMoveStationKeepsLengthAndCrest(t *testing.T) {
	p := stool()
	q, err := profile.MoveStation(p, 3, 52)
	if err != nil {
		t.Fatal(err)
	}
	if q.Length != p.Length || q.Elements[2].X1 != 52 || q.Elements[3].X0 != 52 {
		t.Errorf("moved to %+v", q.Elements[2:4])
	}
	_, before, _ := p.Elements[3].Mid()
	_, after, _ := q.Elements[3].Mid()
	within(t, "crest", after, before, 1e-6)
}

func TestMoveStationStopsAtNeighbours(t *testing.T) {
	for _, x := range []float64{40, 61, -5, math.NaN()} {
		if _, err := profile.MoveStation(stool(), 3, x); !errors.Is(err, profile.ErrTooShort) {
			t.Errorf("moving to %v: %v", x, err)
		}
	}
	if _, err := profile.MoveStation(stool(), 0, 1); !errors.Is(err, profile.ErrNoStation) {
		t.Errorf("moving the hook end: %v", err)
	}
	q, err := profile.MoveStation(stool(), 10, 210)
	if err != nil || q.Length != 210 {
		t.Errorf("moving the far end: length %v, %v", q.Length, err)
	}
}

func TestSetDiameterCarriesJoinedNeighbours(t *testing.T) {
	p := stool()
	q, err := profile.SetDiameter(p, 2, profile.Near, 23)
	if err != nil {
		t.Fatal(err)
	}
	if q.Elements[2].D0 != 23 || q.Elements[2].D1 != 23 {
		t.Error("a fillet has one diameter")
	}
	if q.Elements[3].D0 != 23 {
		t.Error("the bead that met the fillet did not follow")
	}
	if q.Elements[1].D1 != 24 {
		t.Error("the shoulder beyond a step moved")
	}
	if _, err := profile.SetDiameter(p, 2, profile.Near, 0); !errors.Is(err, profile.ErrSize) {
		t.Errorf("a zero diameter: %v", err)
	}
}

func TestSplitKeepsTheShape(t *testing.T) {
	for i, e := range stool().Elements {
		if e.Kind == profile.Shoulder {
			continue
		}
		cut := e.X0 + 0.5*e.Length()
		q, err := profile.Split(stool(), i, cut)
		if err != nil {
			t.Fatalf("%s: %v", e.Kind, err)
		}
		for x := e.X0; x < e.X1; x += e.Length() / 37 {
			got, _ := q.DiameterAt(x)
			within(t, string(e.Kind), got, e.At(x), 1e-6)
		}
		if err := q.Validate(); err != nil {
			t.Errorf("%s: %v", e.Kind, err)
		}
	}
}

func TestMergeTwoHalvesOfABead(t *testing.T) {
	q, _ := profile.Split(stool(), 3, 57)
	q, err := profile.Merge(q, 3)
	if err != nil {
		t.Fatal(err)
	}
	q, err = profile.SetKind(q, 3, profile.Bead)
	if err != nil {
		t.Fatal(err)
	}
	q, _ = profile.SetMid(q, 3, 28)
	for x := 53.0; x < 61; x += 0.5 {
		got, _ := q.DiameterAt(x)
		want, _ := stool().DiameterAt(x)
		within(t, "bead", got, want, 1e-6)
	}
}

func TestSetKindGivesASoundElement(t *testing.T) {
	for i := range stool().Elements {
		for _, k := range profile.Kinds() {
			q, err := profile.SetKind(stool(), i, k)
			if err != nil {
				t.Fatalf("element %d as %s: %v", i, k, err)
			}
			if err := q.Validate(); err != nil {
				t.Errorf("element %d as %s: %v", i, k, err)
			}
		}
	}
}

// TestEditsKeepThePatternSound: whatever edits succeed, in any order, the pattern stays sound, and the one edited is
// left as it was.
func TestEditsKeepThePatternSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := stool()
		for range rapid.IntRange(1, 12).Draw(t, "edits") {
			before := p.Clone()
			q, err := randomEdit(t, p)
			if d := cmp.Diff(before, p); d != "" {
				t.Fatalf("the edit changed its argument: %s", d)
			}
			if err != nil {
				continue
			}
			if err := q.Validate(); err != nil {
				t.Fatal(err)
			}
			p = q
		}
	})
}

func randomEdit(t *rapid.T, p profile.Pattern) (profile.Pattern, error) {
	i := rapid.IntRange(-1, len(p.Elements)).Draw(t, "index")
	x := rapid.Float64Range(-10, 230).Draw(t, "x")
	d := rapid.Float64Range(-2, 60).Draw(t, "d")
	switch rapid.IntRange(0, 5).Draw(t, "edit") {
	case 0:
		return profile.MoveStation(p, i, x)
	case 1:
		return profile.SetDiameter(p, i, profile.End(rapid.IntRange(0, 1).Draw(t, "end")), d)
	case 2:
		return profile.SetMid(p, i, d)
	case 3:
		return profile.SetKind(p, i, rapid.SampledFrom(profile.Kinds()).Draw(t, "kind"))
	case 4:
		return profile.Split(p, i, x)
	}
	return profile.Merge(p, i)
}

// A vee merged with what follows it once kept an inner point of nothing.
func TestMergeOfAVeeHasABottom(t *testing.T) {
	q, err := profile.Merge(stool(), 8)
	if err != nil {
		t.Fatal(err)
	}
	if err := q.Validate(); err != nil {
		t.Error(err)
	}
}
