package guard

/*
#cgo !windows pkg-config: opencv4
#cgo CXXFLAGS: --std=c++11
#include <stdlib.h>
*/
import "C"

import (
	"errors"
	"fmt"
	"slices"
	"unsafe"

	"gocv.io/x/gocv"
)

// ErrClosed says that a Mat was closed or never made.
var ErrClosed = errors.New("guard: closed picture")

// ErrEmpty says that a Mat holds no pixels.
var ErrEmpty = errors.New("guard: empty picture")

// result turns a message of the C++ side into an error and frees it.
func result(op string, msg *C.char) error {
	if msg == nil {
		return nil
	}
	defer C.free(unsafe.Pointer(msg))
	return fmt.Errorf("guard: %s: %s", op, C.GoString(msg))
}

// ptr is the cv::Mat behind m.
func ptr(m *gocv.Mat) unsafe.Pointer {
	return unsafe.Pointer(m.Ptr())
}

// open checks that m can be written to.
func open(m *gocv.Mat) error {
	if m == nil || m.Ptr() == nil {
		return ErrClosed
	}
	return nil
}

// usable checks that each Mat can be read.
func usable(ms ...*gocv.Mat) error {
	for _, m := range ms {
		if err := open(m); err != nil {
			return err
		}
		if m.Empty() {
			return ErrEmpty
		}
	}
	return nil
}

// of checks that m can be read and has one of the types.
func of(m *gocv.Mat, types ...gocv.MatType) error {
	if err := usable(m); err != nil {
		return err
	}
	if !slices.Contains(types, m.Type()) {
		return fmt.Errorf("guard: picture of type %d, want one of %v", m.Type(), types)
	}
	return nil
}
