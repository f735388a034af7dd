package guard

/*
#include "calibrate.h"
*/
import "C"

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// View is one picture of a plane: its points (mm, in the plane) and where they are seen (px).
type View struct{ At, Seen []r2.Vec }

// Fixed says what a calibration leaves as it is: the principal point in the middle, k2 at 0.
type Fixed struct{ Centre, K2 bool }

// Lens is a calibrated camera: focal length and principal point (px), and radial distortion.
type Lens struct{ F, Cx, Cy, K1, K2 float64 }

// Calibrated is what Calibrate finds.
type Calibrated struct {
	Lens, Sigma Lens // and its standard deviations; 0 for what was fixed
	// Turns (rotation vectors, rad) and Shifts (mm) take each view's plane to the camera.
	Turns, Shifts []r3.Vec
	RMS           float64 // distance of points as seen and as computed, px
}

// Calibrate finds one camera, with square pixels and two radial distortion terms, from views of planes. Turns of the planes
// that tell nothing give an error or huge deviations.
func Calibrate(views []View, width, height int, fixed Fixed) (Calibrated, error) {
	if len(views) == 0 || width < 2 || height < 2 || width > maxSide || height > maxSide {
		return Calibrated{}, fmt.Errorf("guard: calibrate from %d views of %d x %d", len(views), width, height)
	}
	var xyz, xy []C.float
	counts := make([]C.int, len(views))
	for i, v := range views {
		if err := v.check(width, height); err != nil {
			return Calibrated{}, fmt.Errorf("guard: calibrate: view %d: %w", i+1, err)
		}
		counts[i] = C.int(len(v.At))
		for k, p := range v.At {
			xyz = append(xyz, C.float(p.X), C.float(p.Y), 0)
			xy = append(xy, C.float(v.Seen[k].X), C.float(v.Seen[k].Y))
		}
	}
	var camera, sigma [5]C.double
	var rms C.double
	poses := make([]C.double, 6*len(views))
	msg := C.guard_calibrate(&xyz[0], &xy[0], &counts[0], C.int(len(views)), C.int(width), C.int(height),
		truth(fixed.Centre), truth(fixed.K2), &camera[0], &sigma[0], &poses[0], &rms)
	if err := result("calibrate", msg); err != nil {
		return Calibrated{}, err
	}
	c := Calibrated{Lens: lens(camera), Sigma: lens(sigma), RMS: float64(rms)}
	for i := range views {
		p := poses[6*i:]
		c.Turns = append(c.Turns, r3.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
		c.Shifts = append(c.Shifts, r3.Vec{X: float64(p[3]), Y: float64(p[4]), Z: float64(p[5])})
	}
	return c, c.finite()
}

// maxSide is where OpenCV's coordinates end, px.
const maxSide = 32767

// leastPoints a view: more than the six unknowns of its pose, so that deviations have something to be judged by.
const leastPoints = 12

// check refuses points that OpenCV cannot take or that tell too little: too few, on one line, not finite or far outside.
func (v View) check(width, height int) error {
	if len(v.At) < leastPoints || len(v.At) != len(v.Seen) {
		return fmt.Errorf("%d points at %d places", len(v.At), len(v.Seen))
	}
	for i, p := range v.At {
		q := v.Seen[i]
		if !(math.Abs(p.X) < 1e6 && math.Abs(p.Y) < 1e6 && math.Abs(q.X) < 2*float64(width) && math.Abs(q.Y) < 2*float64(height)) {
			return fmt.Errorf("point %d at (%g, %g) is seen at (%g, %g)", i+1, p.X, p.Y, q.X, q.Y)
		}
	}
	if onALine(v.At) || onALine(v.Seen) {
		return fmt.Errorf("its points lie on one line")
	}
	return nil
}

// onALine reports whether the points' scatter across their main direction is less than a millionth of that along it.
func onALine(ps []r2.Vec) bool {
	var middle r2.Vec
	for _, p := range ps {
		middle = r2.Add(middle, r2.Scale(1/float64(len(ps)), p))
	}
	var xx, xy, yy float64
	for _, p := range ps {
		d := r2.Sub(p, middle)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	return !(xx*yy-xy*xy > 1e-12*(xx+yy)*(xx+yy))
}

func (c Calibrated) finite() error {
	sum := c.RMS
	for _, l := range []Lens{c.Lens, c.Sigma} {
		sum += l.F + l.Cx + l.Cy + l.K1 + l.K2
	}
	for i := range c.Turns {
		sum += r3.Norm(c.Turns[i]) + r3.Norm(c.Shifts[i])
	}
	if math.IsNaN(sum - sum) {
		return fmt.Errorf("guard: calibrate: no camera makes these views")
	}
	return nil
}

func lens(v [5]C.double) Lens {
	return Lens{float64(v[0]), float64(v[1]), float64(v[2]), float64(v[3]), float64(v[4])}
}

func truth(b bool) C.int {
	if b {
		return 1
	}
	return 0
}
