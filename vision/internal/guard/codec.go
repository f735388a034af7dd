package guard

/*
#include "codec.h"
*/
import "C"

import (
	"errors"
	"fmt"
	"math"
	"unsafe"

	"gocv.io/x/gocv"
)

// decodeFlags asks for three channels at the file's own depth, and leaves the orientation alone: OpenCV
// versions differ in the file types whose orientation they read.
const decodeFlags = 1 | 2 | 128 // IMREAD_COLOR | IMREAD_ANYDEPTH | IMREAD_IGNORE_ORIENTATION

// flagsFor are the flags for a picture reduced by 1, 2, 4 or 8; 0 for another factor.
func flagsFor(by int) C.int {
	switch by {
	case 1:
		return decodeFlags
	case 2:
		return 17 | 128 // IMREAD_REDUCED_COLOR_2 | IMREAD_IGNORE_ORIENTATION
	case 4:
		return 33 | 128
	case 8:
		return 65 | 128
	}
	return 0
}

// Decode decodes a picture file into dst as BGR of 8 or 16 bits; reduced by 2, 4 or 8, other than by 1, of 8 bits. A side that
// is no multiple is rounded up.
func Decode(data []byte, dst *gocv.Mat, by int) error {
	flags := flagsFor(by)
	if flags == 0 {
		return fmt.Errorf("guard: decode: reduced by %d", by)
	}
	if len(data) == 0 || len(data) > math.MaxInt32 {
		return errors.New("guard: decode: no data, or more than 2 GB")
	}
	if err := open(dst); err != nil {
		return err
	}
	err := result("decode", C.guard_decode(unsafe.Pointer(&data[0]), C.size_t(len(data)), flags, ptr(dst)))
	if err == nil && dst.Empty() {
		err = errors.New("guard: decode: the data cannot be read as a picture")
	}
	return err
}
