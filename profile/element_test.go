package profile_test

import (
	"math"
	"testing"

	"spindlestick/profile"
)

// Taper per foot and included angle: Machinery's Handbook, table of tapers and angles, to 5 seconds of arc.
func TestTaperAngles(t *testing.T) {
	for _, row := range []struct{ perFoot, deg, min, sec float64 }{
		{0.25, 1, 11, 36}, {0.5, 2, 23, 10}, {0.75, 3, 34, 44}, {1, 4, 46, 18}, {2, 9, 31, 36}, {3, 14, 15, 0},
	} {
		e := profile.Element{Kind: profile.Taper, X0: 0, X1: 12 * profile.MMPerInch, D0: 4 * profile.MMPerInch}
		e.D1 = e.D0 - row.perFoot*profile.MMPerInch
		want := row.deg + row.min/60 + row.sec/3600
		within(t, "included angle", e.Angle()*180/math.Pi, want, 5.0/3600)
	}
}

// A published working example: 1 7/8 to 3/4 in over 26 in is 1 5/16 in at mid, half angle 1.239 degrees.
func TestTaperAtMid(t *testing.T) {
	in := func(v float64) float64 { return v * profile.MMPerInch }
	e := profile.Element{Kind: profile.Taper, X0: 0, X1: in(26), D0: in(1.875), D1: in(0.75)}
	within(t, "mid diameter", e.At(in(13))/profile.MMPerInch, 1+5.0/16, 1e-9)
	within(t, "half angle", e.Angle()/2*180/math.Pi, 1.239, 0.001)
}

// Milton and Wohlers, A Course in Wood Turning (1919), exercise A-I-4: V cuts of 90 degrees.
func TestVeeOfNinetyDegrees(t *testing.T) {
	e := profile.Element{Kind: profile.Vee, X0: 10, X1: 20, D0: 40, D1: 40, InnerX: 15, InnerD: 30}
	within(t, "included angle", e.Angle(), math.Pi/2, 1e-12)
	within(t, "bottom", e.At(15), 30, 1e-12)
	within(t, "flank", e.At(12.5), 35, 1e-12)
}

// An ogee of two 60 degree arcs (derived: each arc turns 60 degrees, so the flat form is symmetric about its
// inflection) is tangent at the join and level at both ends.
func TestOgeeIsTangentAtItsInflection(t *testing.T) {
	// Two arcs of radius 10, each of 60 degrees, starting level: run 2*10*sin 60, rise 2*10*(1-cos 60).
	run, rise := 10*math.Sin(math.Pi/3), 10*(1-math.Cos(math.Pi/3))
	e := profile.Element{
		Kind: profile.Ogee, X0: 0, X1: 2 * run, D0: 20, D1: 20 + 4*rise,
		InnerX: run, InnerD: 20 + 2*rise, Sagitta: -10 * (1 - math.Cos(math.Pi/6)),
	}
	s := e.Segments()
	if len(s) != 2 {
		t.Fatalf("%d segments, want 2", len(s))
	}
	within(t, "first radius", s[0].Radius(), 10, 1e-9)
	within(t, "second radius", s[1].Radius(), 10, 1e-9)
	within(t, "slope into the join", s[0].Slope(run), math.Tan(math.Pi/3), 1e-6)
	within(t, "slope out of the join", s[1].Slope(run), math.Tan(math.Pi/3), 1e-6)
	within(t, "slope at the start", s[0].Slope(0), 0, 1e-6)
	within(t, "slope at the end", s[1].Slope(2*run), 0, 1e-6)
}

func TestMidOfCurves(t *testing.T) {
	bead := profile.Element{Kind: profile.Bead, X0: 100, X1: 110, D0: 30, D1: 30, Sagitta: 3}
	x, d, ok := bead.Mid()
	if !ok {
		t.Fatal("a bead has a crest")
	}
	within(t, "crest station", x, 105, 1e-9)
	within(t, "crest diameter", d, 36, 1e-9)
	lower, ok := bead.WithMid(34)
	if !ok {
		t.Fatal("a lower crest is possible")
	}
	within(t, "sagitta", lower.Sagitta, 2, 1e-9)
	if _, ok := bead.WithMid(60); ok {
		t.Error("a crest beyond a semicircle was accepted")
	}
	half := profile.Element{Kind: profile.HalfBead, X0: 0, X1: 5, D0: 20, D1: 30, Sagitta: 0.8}
	if _, _, ok := half.Mid(); ok {
		t.Error("a half-bead has no crest inside")
	}
}
