package profile_test

import (
	"math"
	"testing"

	"spindlestick/profile"
)

// A sphere of 40 mm between necks of 12 mm: by Pythagoras it is 2 sqrt(20² - 6²) long, and its arc stands
// 20 - 6 over its chord.
func TestBallIsCalledABall(t *testing.T) {
	l := 2 * math.Sqrt(20*20-6*6)
	p := stool()
	p.Elements = []profile.Element{{Kind: profile.Bead, X0: 0, X1: l, D0: 12, D1: 12, Sagitta: 14}, p.Elements[3]}
	if w := p.Word(0); w != "ball" {
		t.Errorf("a sphere is called a %s", w)
	}
	// The same sphere, 30 mm thick at its ends.
	p.Elements[0] = profile.Element{Kind: profile.Bead, X0: 0, X1: 2 * math.Sqrt(20*20-15*15), D0: 30, D1: 30, Sagitta: 5}
	if w := p.Word(0); w != "bead" {
		t.Errorf("a slice of a sphere is called a %s", w)
	}
	if w := p.Word(1); w != "bead" {
		t.Errorf("a bead is called a %s", w)
	}
}

// A scotia of two quarter hollows, 6 and 12 mm in radius, that meet at their bottom.
func TestTwoTangentCovesAreAScotia(t *testing.T) {
	h := func(r float64) float64 { return -r * (1 - math.Cos(math.Pi/4)) }
	p := profile.Pattern{Length: 18, Elements: []profile.Element{
		{Kind: profile.HalfCove, X0: 0, X1: 6, D0: 42, D1: 30, Sagitta: h(6)},
		{Kind: profile.HalfCove, X0: 6, X1: 18, D0: 30, D1: 54, Sagitta: h(12)},
	}}
	for i := range p.Elements {
		if w := p.Word(i); w != "scotia" {
			t.Errorf("half %d is called a %s", i+1, w)
		}
	}
	p.Elements[1].X0, p.Elements[1].D0 = 6, 34
	if w := p.Word(0); w != "half-cove" {
		t.Errorf("a hollow beside a step is called a %s", w)
	}
}
