package profile_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
)

// within fails unless got is within tol of want.
func within(t interface {
	Helper()
	Errorf(string, ...any)
}, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g within %g", name, got, want, tol)
	}
}

// Machinery's Handbook, 31st edition, segments of circles: p. 79 (chord 16, height 6; radius 60, height 8) and p. 50
// (radius 12, depth 2).
func TestSegmentAgainstHandbook(t *testing.T) {
	s := profile.Segment{X0: 0, R0: 20, X1: 16, R1: 20, Sagitta: 6}
	within(t, "radius of chord 16, height 6", s.Radius(), 8+1.0/3, 1e-9)

	chord := 2 * math.Sqrt(60*60-52*52)
	s = profile.Segment{X0: 0, R0: 100, X1: chord, R1: 100, Sagitta: -8}
	within(t, "chord of radius 60, height 8", chord, 59.86, 0.01)
	within(t, "radius back", s.Radius(), 60, 1e-9)

	chord = 2 * math.Sqrt(12*12-10*10)
	s = profile.Segment{X0: 5, R0: 30, X1: 5 + chord, R1: 30, Sagitta: 2}
	within(t, "chord of R 12, depth 2", s.Chord(), 13.27, 0.005)
	within(t, "angle", s.Angle()*180/math.Pi, 67.13, 0.02)
	within(t, "arc", s.Angle()*s.Radius(), 14.06, 0.005)
}

func TestSemicircle(t *testing.T) {
	s := profile.Segment{X0: 10, R0: 5, X1: 20, R1: 5, Sagitta: 5}
	within(t, "radius", s.Radius(), 5, 1e-12)
	within(t, "crest", s.At(15), 10, 1e-12)
	within(t, "a third up", s.At(10+5-4), 8, 1e-12)
	within(t, "slope at the crest", s.Slope(15), 0, 1e-12)
	within(t, "near end", s.At(10), 5, 1e-12)
	s.Sagitta = 50
	within(t, "held to a semicircle", s.At(15), 10, 1e-12)
}

// TestSegmentProperties: any arc passes through its ends, lies on its own circle, and its slope is the derivative.
func TestSegmentProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := profile.Segment{
			X0: rapid.Float64Range(0, 500).Draw(t, "x0"),
			R0: rapid.Float64Range(1, 60).Draw(t, "r0"),
			R1: rapid.Float64Range(1, 60).Draw(t, "r1"),
		}
		s.X1 = s.X0 + rapid.Float64Range(0.5, 300).Draw(t, "length")
		s.Sagitta = s.Chord() * rapid.Float64Range(-0.6, 0.6).Draw(t, "sagitta")
		within(t, "near end", s.At(s.X0), s.R0, 1e-5)
		within(t, "far end", s.At(s.X1), s.R1, 1e-5)
		x := s.X0 + rapid.Float64Range(0.05, 0.95).Draw(t, "at")*(s.X1-s.X0)
		h := 1e-5 * (s.X1 - s.X0)
		within(t, "slope", s.Slope(x), (s.At(x+h)-s.At(x-h))/(2*h), 1e-3*(1+math.Abs(s.Slope(x))))
		if _, r, ok := s.Extreme(); ok {
			got, ok := s.SagittaThrough(r)
			if !ok {
				t.Fatalf("no arc reaches its own extreme %v", r)
			}
			again := s
			again.Sagitta = got
			_, back, _ := again.Extreme()
			within(t, "the extreme again", back, r, 1e-6*(1+math.Abs(s.Sagitta)))
		}
	})
}

// TestALeaningArcDoesNotTurnBack: over a chord that falls 3.66 mm in 1.75, an arc of 2 mm would pass its own end.
func TestALeaningArcDoesNotTurnBack(t *testing.T) {
	s := profile.Segment{X0: 0, R0: 5.657, X1: 1.75, R1: 2, Sagitta: -2}
	within(t, "near end", s.At(0), 5.657, 1e-9)
	last := s.At(0)
	for x := 0.05; x <= 1.75; x += 0.05 {
		r := s.At(x)
		if !(r <= last+1e-9) || r < 2-1e-9 {
			t.Fatalf("at %v the radius is %v after %v", x, r, last)
		}
		last = r
	}
}
