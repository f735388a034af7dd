package vision

import (
	"fmt"
	"image"
	"math"

	"gocv.io/x/gocv"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/vision/internal/guard"
)

// reduced is a copy of the photo in 8 bit BGR whose longer side is at most side px, shrunk by averaging areas,
// and how many photo pixels one of its pixels spans (at least 1), the same both ways up to rounding. Close the Mat.
func (p *Photo) reduced(side int) (gocv.Mat, float64, error) {
	m := gocv.NewMat()
	if err := p.open(); err != nil {
		return m, 0, err
	}
	scale := max(1, float64(max(p.width, p.height))/float64(side))
	w, h := int(math.Round(float64(p.width)/scale)), int(math.Round(float64(p.height)/scale))
	if err := guard.ResizeArea(&p.pixels, &m, max(w, 1), max(h, 1)); err != nil {
		return m, 0, fmt.Errorf("cannot shrink the photo: %w", err)
	}
	if err := toEightBits(&m); err != nil {
		return m, 0, err
	}
	return m, scale, nil
}

// grow takes a point of a picture reduced by scale to the photo: pixel centres are at whole numbers in both.
func grow(q r2.Vec, scale float64) r2.Vec {
	return r2.Vec{X: (q.X+0.5)*scale - 0.5, Y: (q.Y+0.5)*scale - 0.5}
}

// shrink is the inverse of grow.
func shrink(q r2.Vec, scale float64) r2.Vec {
	return r2.Vec{X: (q.X+0.5)/scale - 0.5, Y: (q.Y+0.5)/scale - 0.5}
}

// grayCrop is the part r of the photo in float32 grey of coded values, 0 to 255. Close the Mat.
func (p *Photo) grayCrop(r image.Rectangle) (gocv.Mat, error) {
	m := gocv.NewMat()
	if err := p.open(); err != nil {
		return m, err
	}
	if err := guard.Crop(&p.pixels, &m, r); err != nil {
		return m, err
	}
	if err := guard.ConvertColor(&m, &m, gocv.ColorBGRToGray); err != nil {
		return m, err
	}
	scale := 1.0
	if p.b16 != nil {
		scale = 1 / 257.0
	}
	return m, guard.ConvertDepth(&m, &m, gocv.MatTypeCV32F, scale)
}

// toEightBits converts a 16 bit Mat in place.
func toEightBits(m *gocv.Mat) error {
	if m.Type() == gocv.MatTypeCV16UC3 {
		return guard.ConvertDepth(m, m, gocv.MatTypeCV8U, 1/257.0)
	}
	return nil
}
