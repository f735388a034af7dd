package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// FlatRoll returns the roll about its axis, radians, of a square that lies flat on the reference plane, as
// Look understands rolls: 0 when the camera looks square onto the face.
func (s Scene) FlatRoll() float64 {
	p, err := NewProjector(s)
	if err != nil {
		return 0
	}
	n := s.Plane.Normal()
	return math.Atan2(r3.Dot(n, p.y), -r3.Dot(n, p.z))
}
