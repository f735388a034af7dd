package plan

import "spindlestick/profile"

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
	Spacing  float64 // middle to middle, mm
	Smallest Size    // the smallest facing diameter, and where
	Opening  float64 // mm, at that place; negative where they would overlap
}

// Opening returns the gap between two like balusters: their spacing less the smallest facing diameter, mm.
func Opening(p profile.Pattern, spacing float64) Guard {
	s := smallest(p)
	return Guard{spacing, s, spacing - s.Diameter}
}

// Stops reports whether a sphere does not pass the opening.
func (g Guard) Stops(s Sphere) bool { return g.Opening < s.Diameter }
