package guard

/*
#include "pixels.h"
*/
import "C"

import (
	"fmt"
	"image"
	"math"

	"gocv.io/x/gocv"
)

// ConvertColor converts the colour space of src.
func ConvertColor(src, dst *gocv.Mat, code gocv.ColorConversionCode) error {
	if err := readWrite(src, dst); err != nil {
		return err
	}
	return result("colour", C.guard_convert_color(ptr(src), ptr(dst), C.int(code)))
}

// ConvertDepth writes src times scale with the element type t (channels are kept).
func ConvertDepth(src, dst *gocv.Mat, t gocv.MatType, scale float64) error {
	if err := readWrite(src, dst); err != nil {
		return err
	}
	return result("depth", C.guard_convert_depth(ptr(src), ptr(dst), C.int(t), C.double(scale)))
}

// Shrink writes the means of blocks of k/by x k/by pixels of src; blocks that are not full at the right and the bottom
// are left out, as many as make the rest a whole number of pixels.
func Shrink(src, dst *gocv.Mat, k, by int) error {
	if err := readWrite(src, dst); err != nil {
		return err
	}
	if by < 1 || k < by || src.Cols()*by/k < by || src.Rows()*by/k < by {
		return fmt.Errorf("guard: shrink %d x %d by %d/%d", src.Cols(), src.Rows(), k, by)
	}
	return result("shrink", C.guard_shrink(ptr(src), ptr(dst), C.int(k), C.int(by)))
}

// Blur smooths src with a Gaussian of sigma px.
func Blur(src, dst *gocv.Mat, sigma float64) error {
	if err := readWrite(src, dst); err != nil {
		return err
	}
	if !(sigma > 0) || math.IsInf(sigma, 0) {
		return fmt.Errorf("guard: blur by sigma %v", sigma)
	}
	return result("blur", C.guard_blur(ptr(src), ptr(dst), C.double(sigma)))
}

// Orient turns and mirrors src as an EXIF orientation (1 to 8) asks, so that it stands upright.
func Orient(src, dst *gocv.Mat, orientation int) error {
	if err := readWrite(src, dst); err != nil {
		return err
	}
	if orientation < 1 || orientation > 8 {
		return fmt.Errorf("guard: orientation %d", orientation)
	}
	// Per orientation: transpose first, then flip by OpenCV's code (0 top to bottom, 1 left to right, -1 both).
	turn := [...]struct{ transpose, flip, code C.int }{
		{0, 0, 0}, {0, 1, 1}, {0, 1, -1}, {0, 1, 0}, {1, 0, 0}, {1, 1, 1}, {1, 1, -1}, {1, 1, 0},
	}[orientation-1]
	return result("orient", C.guard_orient(ptr(src), ptr(dst), turn.transpose, turn.flip, turn.code))
}

// Crop copies the part r of src, which must lie inside it.
func Crop(src, dst *gocv.Mat, r image.Rectangle) error {
	if err := readWrite(src, dst); err != nil {
		return err
	}
	if r.Empty() || !r.In(image.Rect(0, 0, src.Cols(), src.Rows())) {
		return fmt.Errorf("guard: crop %v outside %d x %d", r, src.Cols(), src.Rows())
	}
	return result("crop", C.guard_crop(ptr(src), ptr(dst), C.int(r.Min.X), C.int(r.Min.Y), C.int(r.Dx()), C.int(r.Dy())))
}

func readWrite(src, dst *gocv.Mat) error {
	if err := usable(src); err != nil {
		return err
	}
	return open(dst)
}
