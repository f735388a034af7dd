package app

import (
	"image"
	"math"

	"fyne.io/fyne/v2/driver/desktop"
)

// panCursor shows that a drag moves the view: four arrows, light on dark, as the toolkit has none.
type panCursor struct{ img image.Image }

var _ desktop.Cursor = (*panCursor)(nil)

// cursorSize is a pointer's usual size, px.
const cursorSize = 25

func newPanCursor() *panCursor {
	img := image.NewRGBA(image.Rect(0, 0, cursorSize, cursorSize))
	b := brush{img: img, scale: 1}
	const mid, reach, head = cursorSize / 2.0, 11.0, 4.0
	c := paletteFor(0)
	for _, pass := range []struct {
		grow float64
		c    colour
	}{{1.5, c.ink}, {0, c.paper}} {
		for i := range 4 {
			s, k := math.Sincos(float64(i) * math.Pi / 2)
			at := func(along, across float64) point { return point{mid + k*along - s*across, mid + s*along + k*across} }
			b.stroke([]point{at(0, 0), at(reach-head, 0)}, 1.6+2*pass.grow, pass.c)
			b.polygon([]point{at(reach+pass.grow, 0), at(reach-head-pass.grow, head+pass.grow), at(reach-head-pass.grow, -head-pass.grow)}, pass.c)
		}
	}
	return &panCursor{img}
}

// Image is for Fyne: the picture and its hot spot.
func (c *panCursor) Image() (image.Image, int, int) { return c.img, cursorSize / 2, cursorSize / 2 }
