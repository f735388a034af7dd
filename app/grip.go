package app

import (
	"math"

	"spindlestick/profile"
)

// gripKind is what a press would take hold of.
type gripKind int

const (
	gripNone    gripKind = iota
	gripStation          // an edge between two elements: moves along
	gripEnd              // an element's diameter at one end: moves across
	gripMid              // a crest, bottom or inflection: moves across
	gripView             // the frame on the overview bar: moves the view
)

// grip is one thing that can be taken hold of.
type grip struct {
	kind gripKind
	at   int         // station index of an edge (0 = hook end), or the element
	end  profile.End // of gripEnd
}

// reach is how near the pointer must be, units: wider than what is drawn, so that a hurried hand finds it.
const reach = 9

// find returns what a press at (x, y) takes hold of. On the profile the selected element's diameters come first, then
// stations; elsewhere stations alone.
func (f frame) find(x, y float64) grip {
	if f.bands.overview.holds(y) {
		return grip{kind: gripView}
	}
	if f.bands.profile.holds(y) {
		if g, ok := f.findDiameter(x, y); ok {
			return g
		}
	}
	best, found := reach+1.0, grip{}
	for i := range f.pattern.Elements {
		if d := math.Abs(f.scope.x(f.pattern.Elements[i].X1) - x); d < best {
			best, found = d, grip{kind: gripStation, at: i + 1}
		}
	}
	if best > reach {
		return grip{}
	}
	return found
}

// findDiameter looks at the handles of the selected element.
func (f frame) findDiameter(x, y float64) (grip, bool) {
	best, found := reach+1.0, grip{}
	for _, h := range f.handles() {
		for _, hy := range []float64{f.profileY(h.d / 2), f.profileY(-h.d / 2)} {
			if d := math.Hypot(h.x-x, hy-y); d < best {
				best, found = d, h.grip
			}
		}
	}
	return found, best <= reach
}

// handle is a drawn grip for a diameter.
type handle struct {
	grip grip
	x, d float64 // screen position along, diameter mm
}

// handles of the selected element, held a little inside its ends so that neighbours' do not coincide.
func (f frame) handles() []handle {
	if f.selected < 0 || f.selected >= len(f.pattern.Elements) {
		return nil
	}
	e := f.pattern.Elements[f.selected]
	x0, x1 := f.scope.x(e.X0), f.scope.x(e.X1)
	in := math.Min(5, (x1-x0)/4)
	out := []handle{{grip{gripEnd, f.selected, profile.Near}, x0 + in, e.D0}, {grip{gripEnd, f.selected, profile.Far}, x1 - in, e.D1}}
	if x, d, ok := e.Mid(); ok {
		out = append(out, handle{grip{gripMid, f.selected, 0}, f.scope.x(x), d})
	}
	return out
}

// prepared returns the frame with what all its drawing needs worked out once: units a mm across the profile track, the same
// as along while it fits, less for a stout piece.
func (f frame) prepared() frame {
	round, side := f.pattern.Largest()
	widest := math.Max(math.Max(round, side*math.Sqrt2), 1)
	f.profileScale = math.Min(f.scope.perMM, 0.86*f.bands.profile.height/widest)
	return f
}

func (f frame) profileY(r float64) float64 { return f.bands.profile.mid() - r*f.profileScale }

// drag returns the pattern after grip g moved to (x, y).
func (f frame) drag(p profile.Pattern, g grip, x, y float64) (profile.Pattern, error) {
	d := 2 * math.Abs(y-f.bands.profile.mid()) / f.profileScale
	switch g.kind {
	case gripStation:
		return profile.MoveStation(p, g.at, f.held(p, g.at, f.scope.station(x)))
	case gripEnd:
		return profile.SetDiameter(p, g.at, g.end, math.Max(d, 0.1))
	case gripMid:
		return profile.SetMid(p, g.at, d)
	}
	return p, nil
}

// held keeps a dragged station between its neighbours, so that the drag goes on along the limit instead of stopping.
func (f frame) held(p profile.Pattern, i int, x float64) float64 {
	x = math.Max(x, p.Elements[i-1].X0+profile.MinElement)
	if i < len(p.Elements) {
		x = math.Min(x, p.Elements[i].X1-profile.MinElement)
	}
	return x
}

// name says in words what a drag of g does.
func (g grip) name() string {
	switch g.kind {
	case gripStation:
		return phrase("move station {{.N}}", "N", g.at+1)
	case gripEnd:
		return phrase("change a diameter of element {{.N}}", "N", g.at+1)
	case gripMid:
		return phrase("change the middle of element {{.N}}", "N", g.at+1)
	}
	return ""
}
