package guard

import (
	"bytes"
	"errors"
	"image"
	"math"
	"strings"
	"testing"

	"gocv.io/x/gocv"
	"gonum.org/v1/gonum/spatial/r2"
)

// An exception of OpenCV aborts a Go process. This call is one that throws and no Go check stops: four
// channels cannot be read as BGR.
func TestExceptionBecomesError(t *testing.T) {
	src := gocv.NewMatWithSize(4, 4, gocv.MatTypeCV8UC2)
	defer src.Close()
	dst := gocv.NewMat()
	defer dst.Close()
	err := ConvertColor(&src, &dst, gocv.ColorBGRToGray)
	if err == nil || !strings.HasPrefix(err.Error(), "guard: colour: ") || len(err.Error()) < 25 {
		t.Fatalf("got %v, want OpenCV's own message", err)
	}
}

func TestBadCalls(t *testing.T) {
	gray := gocv.NewMatWithSize(20, 30, gocv.MatTypeCV8UC1)
	defer gray.Close()
	deep := gocv.NewMatWithSize(20, 30, gocv.MatTypeCV64FC1)
	defer deep.Close()
	empty, dst := gocv.NewMat(), gocv.NewMat()
	defer empty.Close()
	defer dst.Close()
	closed := gocv.NewMat()
	closed.Close()
	in := []r2.Vec{{X: 10, Y: 10}}
	for name, err := range map[string]error{
		"closed source":    Blur(&closed, &dst, 1),
		"closed target":    Blur(&gray, &closed, 1),
		"nil source":       Blur(nil, &dst, 1),
		"empty source":     Shrink(&empty, &dst, 3, 1),
		"shrink by 0":      Shrink(&gray, &dst, 0, 1),
		"shrink to 0":      Shrink(&gray, &dst, 21, 1),
		"NaN sigma":        Blur(&gray, &dst, math.NaN()),
		"huge sigma":       Blur(&gray, &dst, math.Inf(1)),
		"crop outside":     Crop(&gray, &dst, image.Rect(5, 5, 31, 10)),
		"crop nothing":     Crop(&gray, &dst, image.Rect(5, 5, 5, 10)),
		"orientation 9":    Orient(&gray, &dst, 9),
		"bad depth":        ConvertDepth(&empty, &dst, gocv.MatTypeCV8U, 1),
		"no corners":       CornerSubPix(&gray, nil, 2),
		"NaN corner":       CornerSubPix(&gray, []r2.Vec{{X: math.NaN()}}, 2),
		"corner outside":   CornerSubPix(&gray, []r2.Vec{{X: 40, Y: 3}}, 2),
		"window too large": CornerSubPix(&gray, in, 11),
		"wrong type":       CornerSubPix(&deep, in, 2),
		"nothing":          Decode(nil, &dst, 1),
		"no picture":       Decode([]byte("not a picture"), &dst, 1),
		"reduced by 3":     Decode([]byte("not a picture"), &dst, 3),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if err := Blur(&closed, &dst, 1); !errors.Is(err, ErrClosed) {
		t.Errorf("closed: %v", err)
	}
}

// The eight orientations of the EXIF standard (CIPA DC-008, tag 0x0112): where the stored picture's first row
// and first column stand in the upright one. A 3 x 2 picture holds
//
//	1 2 3
//	4 5 6
func TestOrient(t *testing.T) {
	src, err := gocv.NewMatFromBytes(2, 3, gocv.MatTypeCV8UC1, []byte{1, 2, 3, 4, 5, 6})
	if err != nil {
		t.Fatal(err)
	}
	defer src.Close()
	for i, want := range []struct {
		rows int
		data []byte
	}{
		{2, []byte{1, 2, 3, 4, 5, 6}},
		{2, []byte{3, 2, 1, 6, 5, 4}},
		{2, []byte{6, 5, 4, 3, 2, 1}},
		{2, []byte{4, 5, 6, 1, 2, 3}},
		{3, []byte{1, 4, 2, 5, 3, 6}},
		{3, []byte{4, 1, 5, 2, 6, 3}},
		{3, []byte{6, 3, 5, 2, 4, 1}},
		{3, []byte{3, 6, 2, 5, 1, 4}},
	} {
		dst := gocv.NewMat()
		if err := Orient(&src, &dst, i+1); err != nil {
			t.Fatal(err)
		}
		if got := dst.ToBytes(); dst.Rows() != want.rows || !bytes.Equal(got, want.data) {
			t.Errorf("orientation %d: %d rows %v, want %d rows %v", i+1, dst.Rows(), got, want.rows, want.data)
		}
		dst.Close()
	}
}

func TestShrinkAverages(t *testing.T) {
	src, err := gocv.NewMatFromBytes(3, 5, gocv.MatTypeCV8UC1, []byte{0, 4, 10, 10, 99, 8, 4, 30, 10, 99, 99, 99, 99, 99, 99})
	if err != nil {
		t.Fatal(err)
	}
	defer src.Close()
	dst := gocv.NewMat()
	defer dst.Close()
	if err := Shrink(&src, &dst, 2, 1); err != nil {
		t.Fatal(err)
	}
	if got := dst.ToBytes(); !bytes.Equal(got, []byte{4, 15}) {
		t.Errorf("got %v, want [4 15]", got)
	}
}

func TestCornerSubPixFindsCrossing(t *testing.T) {
	m := gocv.NewMatWithSize(41, 41, gocv.MatTypeCV8UC1)
	defer m.Close()
	for y := range 41 {
		for x := range 41 {
			if (x < 20) == (y < 20) {
				m.SetUCharAt(y, x, 200)
			} else {
				m.SetUCharAt(y, x, 20)
			}
		}
	}
	at := []r2.Vec{{X: 21, Y: 18}}
	if err := CornerSubPix(&m, at, 6); err != nil {
		t.Fatal(err)
	}
	// The squares meet between pixels 19 and 20.
	if math.Hypot(at[0].X-19.5, at[0].Y-19.5) > 0.02 {
		t.Errorf("corner at %v, want (19.5, 19.5)", at[0])
	}
}
