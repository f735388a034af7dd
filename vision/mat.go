package vision

import (
	"fmt"
	"image"
	"math"

	"gocv.io/x/gocv"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/vision/internal/guard"
)

// reduced is a copy of the photo in 8 bit BGR, shrunk by the whole number k by averaging; k brings its longer side nearest to side px,
// but is least at least. Close the Mat unless there is an error.
func (p *Photo) reduced(side, least int) (m gocv.Mat, k int, err error) {
	k = int(math.Round(float64(max(p.width, p.height)) / float64(side)))
	k = max(1, least, min(k, p.width, p.height))
	m, err = p.reducedBy(k)
	return m, k, err
}

// reducedBy is the same for a given k, which must not exceed the photo's sides.
func (p *Photo) reducedBy(k int) (m gocv.Mat, err error) {
	from, by := &p.sketch, p.sketchBy
	if !p.sketched() || by > k {
		if err := p.open(); err != nil {
			return m, err
		}
		from, by = &p.pixels, 1
	}
	m = gocv.NewMat()
	err = guard.Shrink(from, &m, k, by)
	if err == nil && by == 1 && p.b16 != nil {
		err = guard.ConvertDepth(&m, &m, gocv.MatTypeCV8U, 1/257.0)
	}
	if err != nil {
		m.Close()
		return m, fmt.Errorf("cannot shrink the photo: %w", err)
	}
	return m, nil
}

// grow takes a point of a picture reduced by k to the photo: pixel centres are at whole numbers in both.
func grow(q r2.Vec, k int) r2.Vec {
	return r2.Vec{X: (q.X+0.5)*float64(k) - 0.5, Y: (q.Y+0.5)*float64(k) - 0.5}
}

// grayCrop is the part r of the photo in float32 grey of coded values, 0 to 255. Close the Mat unless there is an error.
func (p *Photo) grayCrop(r image.Rectangle) (m gocv.Mat, err error) {
	if err := p.open(); err != nil {
		return m, err
	}
	scale := 1.0
	if p.b16 != nil {
		scale = 1 / 257.0
	}
	m = gocv.NewMat()
	err = guard.Crop(&p.pixels, &m, r)
	if err == nil {
		err = guard.ConvertColor(&m, &m, gocv.ColorBGRToGray)
	}
	if err == nil {
		err = guard.ConvertDepth(&m, &m, gocv.MatTypeCV32F, scale)
	}
	if err != nil {
		m.Close()
	}
	return m, err
}
