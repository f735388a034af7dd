package fit

import (
	"math"

	"spindlestick/profile/view"
)

// eye is where the trace was seen from: it says how a rim smears and how a square reads. The zero value is a
// camera infinitely far away.
type eye struct {
	foot     float64 // station of the foot of the perpendicular from the camera onto the axis, mm
	distance float64 // of the camera from the axis, mm; 0 = infinite
}

func newEye(m view.Measurement) eye {
	p, err := view.NewProjector(m.Scene)
	if err != nil {
		return eye{}
	}
	return eye{foot: p.Foot, distance: p.D}
}

// smear is the length of a part of radius low that a rim of radius high at station x hides, mm: seen from
// (x - foot, distance) the rim's outline runs along the axis by sqrt(high² - low²) / distance for each mm.
func (e eye) smear(x, low, high float64) float64 {
	if e.distance == 0 {
		return 0
	}
	return math.Abs(x-e.foot) / e.distance * math.Sqrt(math.Max(0, high*high-low*low))
}

// half returns half the side of a square whose edges, treated as the outline of something round, read radius r:
// they lie half a side nearer to the camera than the axis.
func (e eye) half(r float64) float64 {
	if e.distance == 0 || r >= e.distance {
		return r
	}
	v := r / math.Sqrt(e.distance*e.distance-r*r)
	return v * e.distance / (1 + v)
}
