package plan

import "spindlestick/profile"

// Check is a straight run to prove with a straightedge laid along it, lathe stopped.
type Check struct {
	Element  int
	Stations []Size // at its ends and quarters: where the straightedge must touch, and what calipers must read there
	PerFoot  float64
	Half     float64 // angle of one flank to the axis, radians
}

// Size is a diameter at a station, mm.
type Size struct{ X, Diameter float64 }

// shortestCheck is the shortest run that a straightedge says anything about, mm: an inch (common practice, no source).
const shortestCheck = profile.MMPerInch

// checks returns the straight runs that are long enough.
func checks(p profile.Pattern) []Check {
	var out []Check
	for i, e := range p.Elements {
		straight := e.Kind == profile.Taper || e.Kind == profile.Cylinder
		if !straight || e.Length() < shortestCheck {
			continue
		}
		c := Check{Element: i, Half: e.Angle() / 2}
		c.PerFoot = 12 * profile.MMPerInch * abs(e.D1-e.D0) / e.Length()
		for q := range 5 {
			x := e.X0 + e.Length()*float64(q)/4
			c.Stations = append(c.Stations, Size{x, e.At(x)})
		}
		out = append(out, c)
	}
	return out
}

func abs(v float64) float64 { return max(v, -v) }
