package profile

// Role says what a station is to the turner.
type Role string

// The roles of a station.
const (
	Edge       Role = "edge"       // where one element ends and the next begins
	Crest      Role = "crest"      // the highest point of a bead or swell
	Bottom     Role = "bottom"     // the lowest point of a cove or vee
	Inflection Role = "inflection" // where an ogee turns over
)

// Station is one line of the story stick.
type Station struct {
	X       float64 // mm from the hook end
	Role    Role
	Before  float64 // diameter on the hook end's side, mm; 0 at the hook end itself
	After   float64 // diameter on the other side, mm; 0 at the far end
	UX      float64 // expanded uncertainty of X, mm; 0 = not known
	UD      float64 // expanded uncertainty of the diameters, mm
	Element int     // the element that starts here, or that the crest belongs to; len(Elements) at the far end
	State   State
}

// Diameter returns the one number to set calipers to at this station when both sides agree within tol (mm),
// otherwise the larger: the smaller is sized from the shoulder.
func (s Station) Diameter() float64 { return max(s.Before, s.After) }

// Step reports whether the diameters differ by more than tol mm: a square shoulder.
func (s Station) Step(tol float64) bool {
	d := s.Before - s.After
	return s.Before > 0 && s.After > 0 && (d > tol || d < -tol)
}

// Stations returns the stations of a pattern in order: every edge, and the crest, bottom or inflection inside
// each element that has one.
func (p Pattern) Stations() []Station {
	var out []Station
	prev := Element{}
	for i, e := range p.Elements {
		s := Station{X: e.X0, Role: Edge, After: e.D0, Element: i, UX: e.U.X0, UD: e.U.D0, State: e.state()}
		if i > 0 {
			s.Before = prev.D1
			s.UD = max(s.UD, prev.U.D1)
		}
		out = append(out, s)
		if x, d, ok := e.Mid(); ok {
			out = append(out, Station{X: x, Role: e.midRole(), Before: d, After: d, Element: i, UD: e.U.Mid, State: e.state()})
		}
		prev = e
	}
	if n := len(p.Elements); n > 0 {
		out = append(out, Station{X: prev.X1, Role: Edge, Before: prev.D1, Element: n, UX: prev.U.X1, UD: prev.U.D1, State: prev.state()})
	}
	return out
}

func (e Element) state() State {
	if e.State == "" {
		return Visible
	}
	return e.State
}

func (e Element) midRole() Role {
	switch {
	case e.Kind == Ogee:
		return Inflection
	case e.Kind == Vee, e.Sagitta < 0:
		return Bottom
	}
	return Crest
}
