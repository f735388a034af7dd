package plan_test

import (
	"errors"
	"math"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

func TestImpossibleWishesAreRefused(t *testing.T) {
	for name, o := range map[string]plan.Options{
		"copies": {Copies: -1}, "too many": {Copies: 1e9}, "waste": {Waste: [2]float64{math.NaN(), 0}}, "endless waste": {Waste: [2]float64{0, math.Inf(1)}},
		"allowance": {Allowance: -1}, "sanding": {Sanding: 3, Allowance: 1}, "tool": {Tool: 1e-9}, "kerf": {Kerf: -2}, "stock": {Lengths: []float64{0}},
		"speed": {TopSpeed: -5}, "spacing": {Spacing: math.NaN()}, "species": {Species: "plastic"}, "moisture": {Species: "white oak", Moisture: &plan.Moisture{Turned: 30, Use: 8}},
	} {
		if _, err := plan.Make(leg(), o); !errors.Is(err, plan.ErrOption) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAnUnsoundPatternIsRefused(t *testing.T) {
	if _, err := plan.Make(profile.Pattern{}, plan.Options{}); !errors.Is(err, profile.ErrPattern) {
		t.Errorf("no pattern: %v", err)
	}
}

// TestThePatternIsLeftAlone: a plan for wet wood shares nothing with what it was made from.
func TestThePatternIsLeftAlone(t *testing.T) {
	p := leg()
	got := planned(t, p, plan.Options{Species: "white oak", Moisture: &plan.Moisture{Turned: 12, Use: 8}})
	if got.Pattern.Elements[0].Side == 41 || p.Elements[0].Side != 41 || p.Elements[0].Side != leg().Elements[0].Side {
		t.Errorf("turned %v, pattern %v", got.Pattern.Elements[0].Side, p.Elements[0].Side)
	}
}
