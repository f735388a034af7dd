package view

import "gonum.org/v1/gonum/spatial/r2"

// Orientation says how a picture as the sensor delivers it is turned to stand upright, in EXIF's numbers (CIPA DC-008, tag
// 0x0112): 1 = as it is, 3 = by 180 degrees, 6 = clockwise, 8 = anticlockwise by 90 degrees, the others mirrored. Other values
// count as 1.
type Orientation int

// Size returns the size of the other picture of the two: upright from delivered or the other way round.
func (o Orientation) Size(w, h int) (int, int) {
	if o >= 5 && o <= 8 {
		return h, w
	}
	return w, h
}

// Upright returns where pixel p of a delivered picture of w x h lies once it is upright.
func (o Orientation) Upright(p r2.Vec, w, h int) r2.Vec {
	right, bottom := float64(w-1), float64(h-1)
	switch o {
	case 2:
		return r2.Vec{X: right - p.X, Y: p.Y}
	case 3:
		return r2.Vec{X: right - p.X, Y: bottom - p.Y}
	case 4:
		return r2.Vec{X: p.X, Y: bottom - p.Y}
	case 5:
		return r2.Vec{X: p.Y, Y: p.X}
	case 6:
		return r2.Vec{X: bottom - p.Y, Y: p.X}
	case 7:
		return r2.Vec{X: bottom - p.Y, Y: right - p.X}
	case 8:
		return r2.Vec{X: p.Y, Y: right - p.X}
	}
	return p
}

// Delivered returns where pixel p of an upright picture of w x h lies in the picture as delivered.
func (o Orientation) Delivered(p r2.Vec, w, h int) r2.Vec {
	switch o { // the two quarter turns undo each other, the others themselves
	case 6:
		o = 8
	case 8:
		o = 6
	}
	return o.Upright(p, w, h)
}
