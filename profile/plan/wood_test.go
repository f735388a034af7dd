package plan_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// TestWorkedExample is the Wood Handbook's (FPL-GTR-190, page 13-17): white fir, C_T = 0.00245, 232 mm, from 8 to 11 %
// moisture, gains 1.7 mm. The inputs are given from memory.
func TestWorkedExample(t *testing.T) {
	got, err := plan.Move(0.00245, 232, plan.Moisture{Turned: 8, Use: 11})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "the change", got, 1.7, 0.05)
}

func TestMovementIsRefusedOutsideItsRange(t *testing.T) {
	for _, m := range []plan.Moisture{{5.9, 8}, {8, 14.1}, {20, 8}, {8, 0}, {math.NaN(), 8}, {8, math.Inf(1)}} {
		if _, err := plan.Move(0.0025, 100, m); !errors.Is(err, plan.ErrOption) {
			t.Errorf("from %v to %v %%: %v", m.Turned, m.Use, err)
		}
	}
	if _, err := plan.Move(0.0025, 100, plan.Moisture{Turned: 6, Use: 14}); err != nil {
		t.Errorf("the range's own ends: %v", err)
	}
}

// TestWoodTable repeats the Wood Handbook's figures (FPL-GTR-190, tables 4-3, 4-4 and 13-5): shrinkage in %, change
// coefficients in % for 1 % of moisture, times a thousand. Those of yellow-poplar and mahogany (C_T) and of the pine are from memory.
func TestWoodTable(t *testing.T) {
	want := map[string][4]float64{
		"white oak": {5.6, 10.5, 180, 365}, "black walnut": {5.5, 7.8, 190, 274}, "black cherry": {3.7, 7.1, 126, 248},
		"sugar maple": {4.8, 9.9, 165, 353}, "white ash": {4.9, 7.8, 169, 274}, "American beech": {5.5, 11.9, 190, 431},
		"yellow birch": {7.3, 9.5, 256, 338}, "yellow-poplar": {4.6, 8.2, 158, 289}, "mahogany": {3.0, 4.1, 172, 238},
		"eastern white pine": {2.1, 6.1, 71, 212},
	}
	for _, w := range plan.Woods() {
		got := [4]float64{w.Radial, w.Tangential, math.Round(w.CR * 1e5), math.Round(w.CT * 1e5)}
		if got != want[w.Name] {
			t.Errorf("%s: %v, want %v", w.Name, got, want[w.Name])
		}
	}
	if len(plan.Woods()) != len(want) {
		t.Errorf("%d woods, want %d", len(plan.Woods()), len(want))
	}
}

func TestWoodByName(t *testing.T) {
	for _, name := range []string{"white oak", "White Oak", "yellow poplar", "Yellow-Poplar", "american beech"} {
		if _, err := plan.Wood(name); err != nil {
			t.Error(err)
		}
	}
	if _, err := plan.Wood("plywood"); err == nil || !strings.Contains(err.Error(), "sugar maple") {
		t.Errorf("an unknown wood does not say which there are: %v", err)
	}
}

// TestSizedForDrying turns every diameter large enough that equation 13-2 brings it to the pattern's in use.
func TestSizedForDrying(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		w := rapid.SampledFrom(plan.Woods()).Draw(t, "wood")
		m := plan.Moisture{Turned: rapid.Float64Range(6, 14).Draw(t, "turned"), Use: rapid.Float64Range(6, 14).Draw(t, "use")}
		got, err := plan.Make(p, plan.Options{Species: w.Name, Moisture: &m})
		if err != nil {
			t.Fatal(err)
		}
		for i, st := range got.Pattern.Stations() {
			want := p.Stations()[i]
			change, err := plan.Move(w.CT, st.Diameter(), m)
			if err != nil {
				t.Fatal(err)
			}
			tolerance := 1e-6
			if want.Role == profile.Crest || want.Role == profile.Bottom {
				tolerance = 0.01 * want.Diameter() // an arc at its limit cannot follow quite
			}
			if dry := st.Diameter() + change; math.Abs(dry-want.Diameter()) > tolerance {
				t.Errorf("station %d (%s) dries to %.4f, the pattern has %.4f", i+1, want.Role, dry, want.Diameter())
			}
		}
	})
}

func TestMoistureNeedsAWood(t *testing.T) {
	if _, err := plan.Make(leg(), plan.Options{Moisture: &plan.Moisture{Turned: 12, Use: 8}}); !errors.Is(err, plan.ErrOption) {
		t.Errorf("moisture without a wood: %v", err)
	}
}

// TestCrestsAndBottomsAreSizedForDrying holds the leg's curves, which have room to grow, to equation 13-2 exactly.
func TestCrestsAndBottomsAreSizedForDrying(t *testing.T) {
	m := plan.Moisture{Turned: 12, Use: 8}
	oak, err := plan.Wood("white oak")
	if err != nil {
		t.Fatal(err)
	}
	got := planned(t, leg(), plan.Options{Species: "white oak", Moisture: &m})
	for i, st := range got.Pattern.Stations() {
		change, err := plan.Move(oak.CT, st.Diameter(), m)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "the dry diameter", st.Diameter()+change, leg().Stations()[i].Diameter(), 1e-6)
	}
	// In use the other direction, by C_R, is larger by what it did not shrink: 40.2 (C_T - C_R) 4 / (1 - 4 C_T).
	within(t, "out of round", got.Movement.Oval, 40.2*(0.00365-0.0018)*4/(1-4*0.00365), 1e-6)
}
