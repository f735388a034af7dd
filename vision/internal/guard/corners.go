package guard

/*
#include "corners.h"
*/
import "C"

import (
	"fmt"

	"gocv.io/x/gocv"
	"gonum.org/v1/gonum/spatial/r2"
)

// CornerSubPix refines corners in place: each moves to the point whose window of 2 halfWindow + 1 pixels
// has all its gradients pointing away from it. gray has one channel of 8 bits or float32.
func CornerSubPix(gray *gocv.Mat, corners []r2.Vec, halfWindow int) error {
	if err := of(gray, gocv.MatTypeCV8UC1, gocv.MatTypeCV32FC1); err != nil {
		return err
	}
	size := 2*halfWindow + 5 // what OpenCV demands of the picture
	if len(corners) == 0 || halfWindow < 1 || gray.Cols() < size || gray.Rows() < size {
		return fmt.Errorf("guard: %d corners with window %d in %d x %d", len(corners), halfWindow, gray.Cols(), gray.Rows())
	}
	xy := make([]C.float, 2*len(corners))
	for i, p := range corners {
		if !(p.X >= 0 && p.Y >= 0 && p.X <= float64(gray.Cols()-1) && p.Y <= float64(gray.Rows()-1)) {
			return fmt.Errorf("guard: corner (%v, %v) outside the picture", p.X, p.Y)
		}
		xy[2*i], xy[2*i+1] = C.float(p.X), C.float(p.Y)
	}
	if err := result("corners", C.guard_corner_subpix(ptr(gray), &xy[0], C.int(len(corners)), C.int(halfWindow))); err != nil {
		return err
	}
	for i := range corners {
		corners[i] = r2.Vec{X: float64(xy[2*i]), Y: float64(xy[2*i+1])}
	}
	return nil
}
