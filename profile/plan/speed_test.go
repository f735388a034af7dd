package plan_test

import (
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// TestSpeedRange: diameter in inches times rpm lies between 6000 and 9000 (rule of thumb of the trade).
func TestSpeedRange(t *testing.T) {
	for _, c := range []struct{ inches, low, high float64 }{{1, 6000, 9000}, {2, 3000, 4500}, {3, 2000, 3000}, {4, 1500, 2250}} {
		got := plan.SpeedFor(c.inches * in)
		within(t, "low", got.Low, c.low, 1e-6)
		within(t, "high", got.High, c.high, 1e-6)
	}
}

func TestASquareSwingsItsDiagonal(t *testing.T) {
	got := planned(t, build(square(100, 2*in), fillet(100, in)), plan.Options{}).Speeds
	// Machinery's Handbook, page 75: the diagonal of a square is 1.4142 of its side (of 15: 21.21).
	within(t, "swing when finishing", got.Round, 2*in*21.21/15, 0.02)
	if got.Swing <= got.Round || got.Roughing > got.Finishing.Low {
		t.Errorf("roughing: %+v", got)
	}
}

func TestTopSpeedHolds(t *testing.T) {
	got := planned(t, spindle(), plan.Options{TopSpeed: 2800}).Speeds
	if got.Finishing.High != 2800 || got.Roughing > 2800 {
		t.Errorf("on a lathe of 2800 rpm: %+v", got)
	}
}

// TestSlenderness: a steady rest is advised past 11 (woodworkersjournal), a note is made from 9 (common practice, no
// source).
func TestSlenderness(t *testing.T) {
	for _, c := range []struct {
		length float64
		want   plan.Steady
	}{{8.9, plan.Stiff}, {9, plan.Watch}, {11, plan.Watch}, {11.1, plan.Advise}, {40, plan.Advise}} {
		got := planned(t, build(straight(profile.Cylinder, c.length*30, 30, 30)), plan.Options{}).Slender
		if got.Steady != c.want {
			t.Errorf("ratio %.1f: %s, want %s", got.Ratio, got.Steady, c.want)
		}
	}
}

func TestTheRestRunsOnRoundWood(t *testing.T) {
	p := build(straight(profile.Taper, 100, 20, 25), square(200, 40), straight(profile.Taper, 50, 25, 20))
	if got := planned(t, p, plan.Options{}).Slender.Rest; got > 100 && got < 300 || got < 0 {
		t.Errorf("the rest runs at %v, which is square", got)
	}
	if got := planned(t, build(square(200, 40)), plan.Options{}).Slender.Rest; got >= 0 {
		t.Errorf("a bare square has a place for the rest at %v", got)
	}
}
