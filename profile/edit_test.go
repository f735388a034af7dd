package profile_test

import (
	"errors"
	"math"
	"testing"

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
