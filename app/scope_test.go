package app

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestScopeZoomKeepsTheStationUnderThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := fitScope(rapid.Float64Range(50, 1200).Draw(t, "length"), rapid.Float64Range(300, 3000).Draw(t, "width"), 0)
		x := rapid.Float64Range(0, 3000).Draw(t, "x")
		f := rapid.Float64Range(0.3, 3).Draw(t, "factor")
		if got, want := s.zoomed(x, f).station(x), s.station(x); math.Abs(got-want) > 1e-6 {
			t.Fatalf("the station moved from %v to %v", want, got)
		}
	})
}

func TestFitShowsBothEnds(t *testing.T) {
	s := fitScope(450, 900, 0)
	if a, b := s.x(0), s.x(450); a < 10 || b > 890 || b-a < 800 {
		t.Errorf("the piece lies from %v to %v of 900", a, b)
	}
}

func TestPanKeepsThePieceInView(t *testing.T) {
	s := fitScope(450, 900, 0)
	for _, dx := range []float64{-1e6, 1e6} {
		p := s.panned(dx, 450, 900)
		if p.x(450) < 0 || p.x(0) > 900 {
			t.Errorf("panned by %v the piece lies from %v to %v", dx, p.x(0), p.x(450))
		}
	}
}

func TestFitKeepsAStoutPieceInItsTrack(t *testing.T) {
	s := fitScope(150, 900, 4)
	if s.perMM != 4 {
		t.Errorf("%v units a mm, want the limit", s.perMM)
	}
	if mid := s.x(75); math.Abs(mid-450) > 1e-9 {
		t.Errorf("the middle stands at %v of 900", mid)
	}
}
