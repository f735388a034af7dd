package plan

import (
	"math"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
)

// Sphere is a sphere that a guard commonly must stop.
type Sphere struct {
	Diameter float64 // mm
	Source   string
}

// Spheres are for information: the local code decides.
func Spheres() []Sphere {
	return []Sphere{
		{4 * profile.MMPerInch, "IRC R312.1.3"},
		{100, "UK Approved Document K"},
	}
}

// Guard is what a spacing of like balusters leaves open.
type Guard struct {
	Spacing  float64    // middle to middle, mm
	Between  [2]float64 // the stations of the rails' faces: beyond them a baluster faces nothing, mm
	Smallest Size       // the smallest facing diameter, and where
	Opening  float64    // mm, at that place; negative where they would overlap
}

// Opening returns the gap between two like balusters: their spacing less the smallest diameter between the rails, mm.
// tenons is how far the ends go into the rails: 0 = what the pattern shows of tenons, negative = nothing.
func Opening(p profile.Pattern, spacing float64, tenons [2]float64) Guard {
	shown := tenonsOf(p)
	for i, t := range tenons {
		switch {
		case t > 0:
			shown[i] = t
		case t < 0:
			shown[i] = 0
		}
	}
	g := Guard{Spacing: spacing, Between: [2]float64{shown[0], p.Length - shown[1]}}
	g.Smallest = smallestBetween(p, g.Between[0], g.Between[1])
	g.Opening = spacing - g.Smallest.Diameter
	return g
}

// leastShoulder is how much a tenon is thinner than what bears on the rail, mm: less is no shoulder (common practice, no
// source).
const leastShoulder = 2.0

// tenonsOf returns the lengths of the tenons that a pattern shows: a cylinder or slight taper at an end that steps up
// into the piece; 0 = none.
func tenonsOf(p profile.Pattern) [2]float64 {
	n := len(p.Elements)
	var out [2]float64
	if n < 3 {
		return out
	}
	pin := func(e profile.Element) bool { return e.Kind == profile.Cylinder || e.Kind == profile.Taper }
	if e, next := p.Elements[0], p.Elements[1]; pin(e) && next.D0-math.Max(e.D0, e.D1) >= leastShoulder {
		out[0] = e.Length()
	}
	if e, next := p.Elements[n-1], p.Elements[n-2]; pin(e) && next.D1-math.Max(e.D0, e.D1) >= leastShoulder {
		out[1] = e.Length()
	}
	return out
}

// smallestBetween is the thinnest place between two stations; of a square its side.
func smallestBetween(p profile.Pattern, from, to float64) Size {
	out := Size{0, math.Inf(1)}
	for _, e := range p.Elements {
		lo, hi := math.Max(e.X0, from), math.Min(e.X1, to)
		if lo >= hi {
			continue
		}
		for _, x := range append(sizing.Turns(e), lo, hi) {
			if d := e.At(x); x >= lo && x <= hi && d > 0 && d < out.Diameter {
				out = Size{x, d}
			}
		}
	}
	return out
}

// Stops reports whether a sphere does not pass the opening.
func (g Guard) Stops(s Sphere) bool { return g.Opening < s.Diameter }
