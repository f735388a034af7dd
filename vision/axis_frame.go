package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// frame is a straight axis in the picture: O is station 0, E the unit direction, N the unit normal
// to the left of E as seen in the picture (y down). Stations and offsets are in full-size pixels.
type frame struct {
	O, E, N r2.Vec
	L       float64 // length between the two ends
}

// newFrame lays a frame through the two ends.
func newFrame(a, b r2.Vec) frame {
	d := r2.Sub(b, a)
	l := r2.Norm(d)
	e := r2.Scale(1/l, d)
	return frame{O: a, E: e, N: r2.Vec{X: e.Y, Y: -e.X}, L: l}
}

// at is the pixel at station x and offset y to the left.
func (f frame) at(x, y float64) r2.Vec {
	return r2.Add(f.O, r2.Add(r2.Scale(x, f.E), r2.Scale(y, f.N)))
}

// of is the station and offset of pixel p.
func (f frame) of(p r2.Vec) (x, y float64) {
	d := r2.Sub(p, f.O)
	return r2.Dot(d, f.E), r2.Dot(d, f.N)
}

// shifted lays the frame anew on the line y = a + m x, its ends at stations x0 and x1 of the old one.
func (f frame) shifted(a, m, x0, x1 float64) frame {
	return newFrame(f.at(x0, a+m*x0), f.at(x1, a+m*x1))
}

// ordered turns the ends so that the left one comes first when the axis is more horizontal than
// vertical, else the upper one.
func ordered(a, b r2.Vec) (r2.Vec, r2.Vec) {
	d := r2.Sub(b, a)
	swap := d.Y < 0
	if math.Abs(d.X) > math.Abs(d.Y) {
		swap = d.X < 0
	}
	if swap {
		return b, a
	}
	return a, b
}
