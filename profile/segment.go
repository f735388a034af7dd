package profile

import "math"

// Segment is one primitive of a meridian: a straight line from (X0, R0) to (X1, R1), or the
// circular arc over that chord. Sagitta is the signed height of the arc over the middle of its
// chord, mm, positive away from the axis (convex); 0 is a line. A tool that cuts from outside leaves one
// radius at a station, so an arc that would turn back over its own end is held to the one that ends square
// to the axis: a semicircle over a level chord, less over a leaning one.
type Segment struct {
	X0, R0, X1, R1 float64
	Sagitta        float64
}

// flatSagitta is the height under which an arc is computed as a line: a nanometre over any chord
// a lathe takes, far under what a photograph shows, and safe against division by it.
const flatSagitta = 1e-9

// Chord returns the length of the segment's chord, mm.
func (s Segment) Chord() float64 { return math.Hypot(s.X1-s.X0, s.R1-s.R0) }

// held is the sagitta, held so that the arc does not turn back: the chord's slope and the angle between chord and
// end tangent, half the arc's angle 4 atan(2h/c), add up to a right angle at most.
func (s Segment) held() float64 {
	most := s.most()
	return math.Max(-most, math.Min(most, s.Sagitta))
}

// most is the largest sagitta that does not turn back, mm.
func (s Segment) most() float64 {
	lean := math.Atan2(math.Abs(s.R1-s.R0), s.X1-s.X0)
	return s.Chord() / 2 * math.Tan((math.Pi/2-lean)/2)
}

// Straight reports whether the segment is a line.
func (s Segment) Straight() bool { return math.Abs(s.Sagitta) < flatSagitta }

// Radius returns the radius of the arc, mm, by R = (c² + 4h²) / 8h (Machinery's Handbook, segments
// of circles); +Inf for a line.
func (s Segment) Radius() float64 {
	if s.Straight() {
		return math.Inf(1)
	}
	c, h := s.Chord(), math.Abs(s.held())
	return (c*c + 4*h*h) / (8 * h)
}

// Angle returns the angle the arc subtends, radians: 4 atan(2h/c) (Machinery's Handbook); 0 for a line.
func (s Segment) Angle() float64 {
	if s.Straight() {
		return 0
	}
	return 4 * math.Atan(2*math.Abs(s.held())/s.Chord())
}

// Centre returns the centre of the arc; ok is false for a line.
func (s Segment) Centre() (x, r float64, ok bool) {
	if s.Straight() {
		return 0, 0, false
	}
	c, h := s.Chord(), s.held()
	// Unit normal of the chord pointing away from the axis when the chord runs along +x.
	nx, nr := -(s.R1-s.R0)/c, (s.X1-s.X0)/c
	d := h - math.Copysign(s.Radius(), h)
	return (s.X0+s.X1)/2 + nx*d, (s.R0+s.R1)/2 + nr*d, true
}

// At returns the radius at station x, which is held to [X0, X1].
func (s Segment) At(x float64) float64 {
	if s.X1 == s.X0 {
		return s.R1
	}
	x = math.Max(s.X0, math.Min(s.X1, x))
	if s.Straight() {
		return s.R0 + (x-s.X0)/(s.X1-s.X0)*(s.R1-s.R0)
	}
	chord, b, q := s.overChord(x)
	if q <= 0 { // an end; of a semicircle b is zero there as well
		return chord
	}
	return chord + q/(b+math.Copysign(math.Sqrt(b*b+q), s.Sagitta))
}

// overChord returns what the arc's height y over its chord at x solves: y² + 2by - q = 0, with q the power of the
// chord's point. Written so, nothing cancels however flat the arc is.
func (s Segment) overChord(x float64) (chord, b, q float64) {
	m := (s.R1 - s.R0) / (s.X1 - s.X0)
	_, cr, _ := s.Centre()
	chord = s.R0 + (x-s.X0)*m
	return chord, chord - cr, (x - s.X0) * (s.X1 - x) * (1 + m*m)
}

// Slope returns dr/dx at station x; it grows without bound towards the end of a semicircle.
func (s Segment) Slope(x float64) float64 {
	if s.X1 == s.X0 {
		return math.Copysign(math.Inf(1), s.R1-s.R0)
	}
	if s.Straight() {
		return (s.R1 - s.R0) / (s.X1 - s.X0)
	}
	cx, cr, _ := s.Centre()
	x = math.Max(s.X0, math.Min(s.X1, x))
	return -(x - cx) / (s.At(x) - cr)
}

// Extreme returns the station and radius of the arc's crest (convex) or bottom (concave) when it lies
// strictly inside the segment; ok is false otherwise, and for a line.
func (s Segment) Extreme() (x, r float64, ok bool) {
	cx, cr, arc := s.Centre()
	if !arc || cx <= s.X0 || cx >= s.X1 {
		return 0, 0, false
	}
	return cx, cr + math.Copysign(s.Radius(), s.Sagitta), true
}

// SagittaThrough returns the sagitta of the arc over the segment's chord whose crest or bottom reaches
// radius r between the ends, and false when no such arc exists.
func (s Segment) SagittaThrough(r float64) (float64, bool) {
	top, low := math.Max(s.R0, s.R1), math.Min(s.R0, s.R1)
	sign := 1.0
	switch {
	case r >= top:
	case r <= low:
		sign = -1
	default:
		return 0, false
	}
	// The height of the extreme grows with the sagitta, so bisection finds it.
	reach := func(h float64) float64 {
		c := Segment{s.X0, s.R0, s.X1, s.R1, sign * h}
		if _, e, ok := c.Extreme(); ok {
			return e
		}
		if sign > 0 {
			return top
		}
		return low
	}
	lo, hi := 0.0, s.most()
	if sign*(reach(hi)-r) < -1e-9 {
		return 0, false
	}
	for range 80 {
		mid := (lo + hi) / 2
		if sign*(reach(mid)-r) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return sign * (lo + hi) / 2, true
}
