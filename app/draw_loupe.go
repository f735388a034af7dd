package app

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// The loupe shows the photograph magnified under a station or diameter that is being dragged.
const (
	loupeRadius  = 62  // units
	loupeGain    = 4.0 // times the track's own scale
	loupeMargin  = 14  // between the loupe and the hand, units
	readingSize  = 13  // of the number beside the pointer, units
	readingInset = 6
)

// drawLoupe draws the loupe beside the hand, on the photo track, and the number that is being changed.
func (f frame) drawLoupe(b brush) {
	if f.reading == "" {
		return
	}
	if f.magnifies() {
		f.lens(b, f.loupeCentre())
	}
	at, w := f.readingBox(b)
	b.fill(at.x, at.y, w, readingSize+8, f.colours.under)
	b.text(f.reading, at.x+readingInset, at.y+readingSize+1, readingSize, true, f.colours.mark)
}

func (f frame) magnifies() bool { return f.photo != nil && f.hot.kind == gripStation }

// readingBox is where the number stands: under the loupe, or beside the hand, and always within the tracks.
func (f frame) readingBox(b brush) (at point, width float64) {
	width = b.width(f.reading, readingSize, true) + 2*readingInset
	at = point{f.hand.x + loupeMargin, f.hand.y - loupeMargin - readingSize}
	if f.magnifies() {
		c := f.loupeCentre()
		at = point{c.x - width/2, c.y + loupeRadius + 4}
	}
	at.x = math.Max(0, math.Min(at.x, f.width-width))
	at.y = math.Max(0, at.y)
	return at, width
}

// loupeCentre stands beside the station, on the side with more room, so that it hides neither line nor hand.
func (f frame) loupeCentre() point {
	x := f.scope.x(f.hotStation())
	side := 1.0
	if x > f.width/2 {
		side = -1
	}
	return point{x + side*(loupeRadius+loupeMargin), f.bands.photo.top + loupeRadius + 6}
}

// hotStation is where the dragged edge stands, mm.
func (f frame) hotStation() float64 {
	if f.hot.at < 1 || f.hot.at > len(f.pattern.Elements) {
		return 0
	}
	return f.pattern.Elements[f.hot.at-1].X1
}

// lens resamples the photograph round the station's meeting with the upper edge of the piece.
func (f frame) lens(b brush, c point) {
	station := f.hotStation()
	e := f.pattern.Elements[f.hot.at-1]
	edge := seen(e, e.D1) / 2 // mm above the axis
	perMM := f.scope.perMM * loupeGain
	for col := b.px(c.x - loupeRadius); col <= b.px(c.x+loupeRadius); col++ {
		dx := (float64(col)+0.5)/b.scale - c.x
		half := math.Sqrt(math.Max(0, loupeRadius*loupeRadius-dx*dx))
		if col < 0 || col >= b.img.Rect.Dx() || half == 0 {
			continue
		}
		x := station + dx/perMM
		a, okA := f.axisPixel(x)
		dir, pxMM, okB := f.across(x)
		if !okA || !okB {
			continue
		}
		middle := r2.Add(a, r2.Scale(edge*pxMM, dir))
		f.lensColumn(b, col, c.y, half, middle, r2.Scale(pxMM/perMM/b.scale, dir))
	}
	b.stroke([]point{{c.x, c.y - loupeRadius}, {c.x, c.y + loupeRadius}}, 2.4, f.colours.under)
	b.stroke([]point{{c.x, c.y - loupeRadius}, {c.x, c.y + loupeRadius}}, 1, f.colours.mark)
	ring := make([]point, 0, 73)
	for i := range 73 {
		s, k := math.Sincos(float64(i) * math.Pi / 36)
		ring = append(ring, point{c.x + loupeRadius*k, c.y + loupeRadius*s})
	}
	b.stroke(ring, 3, f.colours.under)
	b.stroke(ring, 1.4, f.colours.mark)
}

// lensColumn fills one column of the loupe: the pixel middle at height y, one device px up is step.
func (f frame) lensColumn(b brush, col int, y, half float64, middle, step r2.Vec) {
	s := f.photo.at(r2.Norm(step))
	for row := max(0, b.px(y-half)); row <= min(b.px(y+half), b.img.Rect.Dy()-1); row++ {
		up := y*b.scale - float64(row) - 0.5
		r, g, bl, ok := s.bilinear(middle.X+up*step.X, middle.Y+up*step.Y)
		if !ok {
			continue
		}
		i := row*b.img.Stride + 4*col
		b.img.Pix[i], b.img.Pix[i+1], b.img.Pix[i+2], b.img.Pix[i+3] = r, g, bl, 0xff
	}
}
