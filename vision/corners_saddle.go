package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Where four squares of a board meet, the picture is a saddle whatever the turn of the board. Saddles are
// found first and joined into grids afterwards, so that boards need not stand out from what they lie on and
// several of them do not confuse one another.

const (
	// cornerBlur is the smoothing in px before derivatives are taken: enough for the noise of a dim photo, little
	// enough for squares of 8 px.
	cornerBlur = 1.5
	// cornerStrength is the least second derivative, in levels per px^2, of a saddle. A crossing of contrast C has
	// C / (pi sigma^2): 15 levels in a sharp picture and 45 in one blurred by 4 px reach it; noise of 4 levels has 0.17.
	cornerStrength = 0.8
	// cornerRadius is the radius in px of the ring on which a crossing must be bright, dark, bright, dark.
	cornerRadius = 3.0
	// cornerPurity is the least ratio of that pattern to one that is bright on one side and dark on the other. The
	// corner of a single square has 0.7, a crossing more than 3, one with a shadow's edge through it between the two.
	cornerPurity = 1.2
)

// gray is a picture of one channel in coded values, 0 to 255.
type gray struct {
	w, h int
	pix  []float32
}

// at interpolates linearly, the nearest pixel's value outside.
func (g gray) at(p r2.Vec) float64 {
	x := math.Min(math.Max(p.X, 0), float64(g.w-1))
	y := math.Min(math.Max(p.Y, 0), float64(g.h-1))
	x0, y0 := min(int(x), max(g.w-2, 0)), min(int(y), max(g.h-2, 0))
	fx, fy := x-float64(x0), y-float64(y0)
	x1, y1 := min(x0+1, g.w-1), min(y0+1, g.h-1)
	top := float64(g.pix[y0*g.w+x0])*(1-fx) + float64(g.pix[y0*g.w+x1])*fx
	bottom := float64(g.pix[y1*g.w+x0])*(1-fx) + float64(g.pix[y1*g.w+x1])*fx
	return top*(1-fy) + bottom*fy
}

// corner is a candidate for the crossing of four squares.
type corner struct {
	p      r2.Vec  // px of the searched picture
	bright float64 // direction of the two bright squares, rad, modulo pi
}

// findCorners returns the saddles of a picture that was smoothed by cornerBlur.
func findCorners(g gray) []corner {
	const margin = int(cornerRadius) + 2
	if g.w <= 2*margin || g.h <= 2*margin {
		return nil
	}
	s := saddles(g)
	var found []corner
	for y := margin; y < g.h-margin; y++ {
		for x := margin; x < g.w-margin; x++ {
			if s[y*g.w+x] < cornerStrength*cornerStrength || !peak(s, g.w, x, y) {
				continue
			}
			if c, ok := crossing(g, saddlePoint(g, x, y)); ok {
				found = append(found, c)
			}
		}
	}
	return found
}

// saddles is minus the determinant of the Hessian at each pixel, 0 at the border.
func saddles(g gray) []float32 {
	s := make([]float32, len(g.pix))
	for y := 1; y < g.h-1; y++ {
		a, b, c := g.pix[(y-1)*g.w:y*g.w], g.pix[y*g.w:(y+1)*g.w], g.pix[(y+1)*g.w:(y+2)*g.w]
		row := s[y*g.w : (y+1)*g.w]
		for x := 1; x < len(b)-1; x++ {
			xx := b[x-1] - 2*b[x] + b[x+1]
			yy := a[x] - 2*b[x] + c[x]
			xy := (a[x-1] - a[x+1] - c[x-1] + c[x+1]) / 4
			row[x] = xy*xy - xx*yy
		}
	}
	return s
}

// peak tells whether s is nowhere larger within 2 px.
func peak(s []float32, w, x, y int) bool {
	v := s[y*w+x]
	for dy := -2; dy <= 2; dy++ {
		for _, n := range s[(y+dy)*w+x-2 : (y+dy)*w+x+3] {
			if n > v {
				return false
			}
		}
	}
	return true
}

// saddlePoint is the point near pixel (x, y) where the gradient vanishes, at most a pixel away.
func saddlePoint(g gray, x, y int) r2.Vec {
	at := func(dx, dy int) float64 { return float64(g.pix[(y+dy)*g.w+x+dx]) }
	gx, gy := (at(1, 0)-at(-1, 0))/2, (at(0, 1)-at(0, -1))/2
	xx, yy := at(-1, 0)-2*at(0, 0)+at(1, 0), at(0, -1)-2*at(0, 0)+at(0, 1)
	xy := (at(-1, -1) - at(1, -1) - at(-1, 1) + at(1, 1)) / 4
	det := xx*yy - xy*xy // negative at a saddle
	dx, dy := -(yy*gx-xy*gy)/det, -(xx*gy-xy*gx)/det
	return r2.Vec{X: float64(x) + clamp(dx, -1, 1), Y: float64(y) + clamp(dy, -1, 1)}
}

func clamp(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }

// crossing tells whether the ring around p is bright, dark, bright, dark.
func crossing(g gray, p r2.Vec) (corner, bool) {
	const n = 16
	var c1, s1, c2, s2 float64
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
		v := g.at(r2.Vec{X: p.X + cornerRadius*cos, Y: p.Y + cornerRadius*sin})
		c1, s1 = c1+v*cos, s1+v*sin
		c2, s2 = c2+v*(cos*cos-sin*sin), s2+v*2*sin*cos
	}
	if math.Hypot(c2, s2) < cornerPurity*math.Hypot(c1, s1) {
		return corner{}, false
	}
	return corner{p: p, bright: math.Atan2(s2, c2) / 2}, true
}
