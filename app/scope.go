package app

import "math"

// scope is what the three tracks show of the axis: which station stands at the left edge, and how many screen units a
// millimetre takes. All tracks share one scope, so a station is one line through all of them.
type scope struct {
	left  float64 // station at the left edge, mm
	perMM float64 // screen units a mm
}

// The limits of zooming: a kilometre of wood on a screen, and a hair (0.05 mm) as wide as a thumb.
const (
	minPerMM = 1e-3
	maxPerMM = 400
)

// fitScope shows a piece of the given length across width units, with a margin on both sides, at no more than most units a
// mm (0 = no limit: a stout piece would stand over its track).
func fitScope(length, width, most float64) scope {
	const margin = 0.04
	if length <= 0 || width <= 0 {
		return scope{perMM: 1}
	}
	s := scope{perMM: width * (1 - 2*margin) / length}
	if most > 0 {
		s.perMM = math.Min(s.perMM, most)
	}
	s.left = length/2 - width/2/s.perMM
	return s
}

// x returns the screen position of a station.
func (s scope) x(mm float64) float64 { return (mm - s.left) * s.perMM }

// station returns the station at a screen position.
func (s scope) station(x float64) float64 { return s.left + x/s.perMM }

// zoomed returns the scope magnified by factor with the station under x staying there.
func (s scope) zoomed(x, factor float64) scope {
	at := s.station(x)
	s.perMM = math.Max(minPerMM, math.Min(maxPerMM, s.perMM*factor))
	s.left = at - x/s.perMM
	return s
}

// centred returns the scope with a station in the middle of width units, kept on the piece.
func (s scope) centred(station, length, width float64) scope {
	return s.panned((s.station(width/2)-station)*s.perMM, length, width)
}

// panned returns the scope moved by dx units to the right, kept so that the piece never leaves the view.
func (s scope) panned(dx, length, width float64) scope {
	s.left -= dx / s.perMM
	keep := 0.2 * width / s.perMM // a fifth of the view stays on the piece
	s.left = math.Max(s.left, keep-width/s.perMM)
	s.left = math.Min(s.left, length-keep)
	return s
}
