package guard

/*
#include "codec.h"
*/
import "C"

import (
	"errors"
	"math"
	"unsafe"

	"gocv.io/x/gocv"
)

// decodeFlags asks for three channels at the file's own depth, and leaves the orientation alone: OpenCV
// versions differ in the file types whose orientation they read.
const decodeFlags = 1 | 2 | 128 // IMREAD_COLOR | IMREAD_ANYDEPTH | IMREAD_IGNORE_ORIENTATION

// Decode decodes a picture file into dst as BGR of 8 or 16 bits.
func Decode(data []byte, dst *gocv.Mat) error {
	if len(data) == 0 || len(data) > math.MaxInt32 {
		return errors.New("guard: decode: no data, or more than 2 GB")
	}
	if err := open(dst); err != nil {
		return err
	}
	err := result("decode", C.guard_decode(unsafe.Pointer(&data[0]), C.size_t(len(data)), decodeFlags, ptr(dst)))
	if err == nil && dst.Empty() {
		err = errors.New("guard: decode: the data cannot be read as a picture")
	}
	return err
}
