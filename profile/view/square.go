package view

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"
)

// squareStretch is a stretch of the piece with a square section.
type squareStretch struct {
	x0, x1    float64 // stations of its ends, mm
	half      float64 // half its side, mm
	roll      float64 // as Look understands it, radians
	sigmaRoll float64 // standard deviation of the roll, radians
}

// sightCorner is the corner of a square that makes the outline on one side, in half sides from the axis: a outward,
// b away from the camera.
type sightCorner struct{ a, b float64 }

// corner returns the corner that shows on a side at distance d.
func (q squareStretch) corner(d float64, side int) sightCorner {
	var out sightCorner
	most := math.Inf(-1)
	for k := range 4 {
		sin, cos := math.Sincos(q.roll + math.Pi/4 + float64(k)*math.Pi/2)
		c := sightCorner{math.Sqrt2 * cos * outward(side), math.Sqrt2 * sin}
		if v := c.v(q.half, d); v > most {
			out, most = c, v
		}
	}
	return out
}

// v is where the corner of a square with this half side is seen from distance d, half the side that of a square whose
// corner is seen at v, and depth how far the corner is away; mm.
func (c sightCorner) v(half, d float64) float64     { return c.a * half / (d + c.b*half) }
func (c sightCorner) half(v, d float64) float64     { return v * d / (c.a - v*c.b) }
func (c sightCorner) depth(half, d float64) float64 { return d + c.b*half }

// byRoll is how fast half the side, read at both corners, changes with the roll that is assumed, mm per radian.
func (q squareStretch) byRoll(d float64) float64 {
	const step = 1e-4
	sum := 0.0
	other := q
	other.roll += step
	for side := range 2 {
		v := q.corner(d, side).v(q.half, d)
		sum += (other.corner(d, side).half(v, d) - q.half) / step / 2
	}
	return sum
}

// slant is how far the axis seems off the middle of the stretch's two edges, in v.
func (q squareStretch) slant(d float64) float64 {
	return (q.corner(d, 1).v(q.half, d) - q.corner(d, 0).v(q.half, d)) / 2
}

const (
	// sameSquare is how far readings in a square's stretch may be off and still be it, as a fraction of the half side,
	// sameSquarePx the same in pixels.
	sameSquare, sameSquarePx = 0.01, 0.8
	// chip is the longest damage that a square's edge goes on behind, mm.
	chip = 8.0
	// leastStretch is the least length of a stretch, in half sides, that is called square.
	leastStretch = 0.4
	// sidesApart is how far the two edges may end apart, in half sides, before the shorter counts as damaged. A shoulder
	// shows first on the side where it cuts off the near corner.
	sidesApart = 1.0
)

// square returns the square stretch at station x.
func (a placed) square(x float64) (squareStretch, bool) {
	for _, q := range a.squares {
		if x >= q.x0 && x <= q.x1 {
			return q, true
		}
	}
	return squareStretch{}, false
}

// besideSquare returns the square stretch whose shoulder station x may lie on. Nothing turned from the same wood
// reaches further out there than its flats, whatever is seen of its corners.
func (a placed) besideSquare(x float64) (squareStretch, bool) {
	for _, q := range a.squares {
		if x >= q.x0-2*q.half && x <= q.x1+2*q.half {
			return q, true
		}
	}
	return squareStretch{}, false
}

// grow walks from station x in direction dir along both edges for as long as they are those of the square, and returns
// the station where they end; false where they are nowhere.
func (a placed) grow(q squareStretch, x, dir float64) (float64, bool) {
	var ends []float64
	for side := range a.contours {
		if end, ok := a.growSide(q, side, x, dir); ok {
			ends = append(ends, end)
		}
	}
	switch {
	case len(ends) == 0:
		return 0, false
	case len(ends) == 1:
		return ends[0], true
	}
	shorter, longer := ends[0], ends[1]
	if dir*shorter > dir*longer {
		shorter, longer = longer, shorter
	}
	if math.Abs(longer-shorter) < sidesApart*q.half {
		return shorter, true
	}
	return longer, true
}

func (a placed) growSide(q squareStretch, side int, x, dir float64) (float64, bool) {
	c := &a.contours[side]
	corner := q.corner(a.p.D, side)
	depth := corner.depth(q.half, a.p.D)
	within := math.Max(sameSquare*q.half, sameSquarePx*a.p.MMPerPixel(x))
	i := sort.SearchFloat64s(c.before, (x-a.p.Foot)/depth)
	last, resumed, ok := x, x, false // resumed: where the edge goes on after a gap
	for ; i >= 0 && i < len(c.u); i += int(dir) {
		at := a.p.Foot + c.u[i]*depth
		off := corner.half(c.v[i], a.p.D) - q.half
		switch {
		case off > 3*within || dir*(at-last) > 2*chip:
			return last, ok
		case math.Abs(off) >= within:
			if dir*(at-last) > chip {
				return last, ok
			}
			resumed = at
		case dir*(at-resumed) >= dir*(resumed-last):
			last, resumed, ok = at, at, true
		}
	}
	return last, ok
}

// readSquare reads half the side at station x of a square stretch.
func (a placed) readSquare(q squareStretch, side int, x float64) sideReading {
	c := &a.contours[side]
	corner := q.corner(a.p.D, side)
	depth := corner.depth(q.half, a.p.D)
	// The corners of the face itself are the ends' business.
	inset := math.Min(2*a.p.MMPerPixel(x), (q.x1-q.x0)/2)
	u := (math.Max(q.x0+inset, math.Min(q.x1-inset, x)) - a.p.Foot) / depth
	want := corner.v(q.half, a.p.D)
	best, off := -1, math.Inf(1)
	for i := max(1, sort.SearchFloat64s(c.before, u)); i < len(c.u) && c.after[i-1] <= u; i++ {
		if c.gap[i] || (c.u[i]-u)*(c.u[i-1]-u) > 0 {
			continue
		}
		if d := math.Abs((c.v[i]+c.v[i-1])/2 - want); d < off {
			best, off = i, d
		}
	}
	if best < 0 {
		return sideReading{}
	}
	v := c.v[best]
	if du := c.u[best] - c.u[best-1]; du != 0 {
		v = c.v[best-1] + (u-c.u[best-1])/du*(c.v[best]-c.v[best-1])
	}
	return sideReading{ok: true, r: corner.half(v, a.p.D), sigma: c.sigma[best] * a.p.D}
}

// reach returns how far the piece reaches from its axis towards the plane at station x: its radius, or what a square
// rests on.
func (a placed) reach(x float64) (float64, bool) {
	if q, ok := a.square(x); ok {
		return a.rests(q), true
	}
	r, ok := a.bare(x)
	if q, beside := a.besideSquare(x); beside {
		r = math.Min(r, q.half)
	}
	return r, ok
}

// rests returns how high a square's axis lies over what it lies on, mm.
func (a placed) rests(q squareStretch) float64 {
	off := quarter(q.roll - a.flatRoll())
	if math.Abs(off) < liesFlat {
		return q.half
	}
	return q.half * (math.Abs(math.Cos(off)) + math.Abs(math.Sin(off)))
}

// flatRoll is the scene's FlatRoll.
func (a placed) flatRoll() float64 {
	n := a.scene.Plane.Normal()
	return math.Atan2(r3.Dot(n, a.p.y), -r3.Dot(n, a.p.z))
}

// quarter brings a roll to within an eighth of a turn: a square looks the same after a quarter.
func quarter(roll float64) float64 { return math.Remainder(roll, math.Pi/2) }
