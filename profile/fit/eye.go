package fit

import (
	"math"

	"spindlestick/profile/view"
)

// eye is where the trace was seen from: it says how a rim smears and how a square reads. The zero value is a
// camera infinitely far away.
type eye struct{ p *view.Projector }

func newEye(m view.Measurement) eye {
	p, err := view.NewProjector(m.Scene)
	if err != nil {
		return eye{}
	}
	return eye{&p}
}

// smear is the length of a part of radius low that a rim of radius high at station x hides, mm: seen from
// (x - foot, distance) the rim's outline runs along the axis by sqrt(high² - low²) / distance for each mm.
func (e eye) smear(x, low, high float64) float64 {
	if e.p == nil {
		return 0
	}
	return math.Abs(x-e.p.Foot) / e.p.D * math.Sqrt(math.Max(0, high*high-low*low))
}

// half returns half the side of a square whose edges, treated as the outline of something round, read radius r.
func (e eye) half(r float64) float64 {
	if e.p == nil || r >= e.p.D {
		return r
	}
	return e.p.HalfSide(r)
}
