package view

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

// tipRows is how many columns of an exact outline may hold an end's rim.
const tipRows = 12

// sighted is the exact outline as a sighting, with noise along the normals.
func (b benchPiece) sighted(noise float64, rng *rand.Rand) Sighting {
	o := Outline{Axis: [2]r2.Vec{{X: b.Axis.A[0], Y: b.Axis.A[1]}, {X: b.Axis.B[0], Y: b.Axis.B[1]}}}
	for side, pts := range b.outline {
		for i, q := range pts {
			d := r2.Sub(pts[min(i+1, len(pts)-1)], pts[max(i-1, 0)])
			n := r2.Unit(r2.Vec{X: d.Y, Y: -d.X})
			if side == 1 {
				n = r2.Scale(-1, n)
			}
			q = r2.Add(q, r2.Scale(noise*rng.NormFloat64(), n))
			e := EdgePoint{P: q, N: n, Sigma: math.Max(noise, 0.002), State: profile.Visible}
			o.Sides[side] = append(o.Sides[side], e)
			// Given column by column, the points of a rim lie too far apart to be a contour.
			if i < tipRows {
				o.Ends[0] = append(o.Ends[0], e)
			} else if i >= len(pts)-tipRows {
				o.Ends[1] = append(o.Ends[1], e)
			}
		}
	}
	for e, pts := range b.faces() {
		o.Ends[e] = append(o.Ends[e], pts...)
	}
	c := b.Camera
	return Sighting{Width: c.Width, Height: c.Height, Focal35: c.F35, Outline: o}
}

func (b benchPiece) sheet() float64 {
	if b.Reference.Kind == "rule" {
		return steel
	}
	return paper
}

func (b benchPiece) height() Height {
	if b.Reference.PlaneZ == 0 {
		return Height{Mode: Raised}
	}
	return Height{Mode: Level}
}

// scored compares a trace with the truth as the bench's own score does: turned, undamaged, visible stretches,
// 0.5 mm away from steep places and ends. It returns the errors of the diameter.
func (b benchPiece) scored(tr profile.Trace) []float64 {
	var out []float64
	for x := 0.0; x < b.Length; x += 0.1 {
		if s, ok := tr.At(x); ok && b.clear(x) {
			out = append(out, 2*s.R-2*b.radius(x))
		}
	}
	return out
}

// clear reports whether the bench scores station x.
func (b benchPiece) clear(x float64) bool {
	if x < 0.5 || x > b.Length-0.5 {
		return false
	}
	for _, e := range b.Elements {
		if (e.Kind == "square" || e.Kind == "shoulder") && x > e.X0-0.5 && x < e.X1+0.5 {
			return false
		}
	}
	for i := 1; i < len(b.Profile); i++ {
		p, q := b.Profile[i-1], b.Profile[i]
		if dr := math.Abs(q[1] - p[1]); dr > 3*(q[0]-p[0])+1e-6 && dr > 0.01 && x > p[0]-0.5 && x < q[0]+0.5 {
			return false
		}
	}
	for _, d := range b.Damaged {
		if x > d.X0-0.5 && x < d.X1+0.5 {
			return false
		}
	}
	for _, d := range b.Hidden {
		if d.Side == "both" && x > d.X0-0.2 && x < d.X1+0.2 {
			return false
		}
	}
	return true
}

func (b benchPiece) radius(x float64) float64 {
	for i := 1; i < len(b.Profile); i++ {
		if p, q := b.Profile[i-1], b.Profile[i]; x >= p[0] && x <= q[0] && q[0] > p[0] {
			return p[1] + (x-p[0])/(q[0]-p[0])*(q[1]-p[1])
		}
	}
	return 0
}

func figures(e []float64) (bias, rms, worst float64) {
	for _, v := range e {
		bias += v
		rms += v * v
		worst = math.Max(worst, math.Abs(v))
	}
	n := float64(len(e))
	return bias / n, math.Sqrt(rms / n), worst
}

// faces are points along the near edges of square end faces, which the exact outlines, given column by column, do
// not hold: the line between two corners of the square.
func (b benchPiece) faces() (ends [2][]EdgePoint) {
	s := b.scene()
	for e, x := range []float64{0, b.Length} {
		el := b.Elements[e*(len(b.Elements)-1)]
		if el.Kind != "square" {
			continue
		}
		var corner [2]r2.Vec
		for k := range corner {
			h := el.D0 / 2
			w := r3.Vec{X: x, Y: h * (1 - 2*float64(k)), Z: h}
			corner[k], _ = s.Camera.Project(r3.Add(turn(b.Camera.R, w), s.Axis.P))
		}
		for k := range 21 {
			q := r2.Add(corner[0], r2.Scale(float64(k)/20, r2.Sub(corner[1], corner[0])))
			ends[e] = append(ends[e], EdgePoint{P: q, Sigma: 0.05, State: profile.Visible})
		}
	}
	return ends
}

// covered is the share of the scored stations whose diameter lies within its stated uncertainty, and the mean of that.
func (b benchPiece) covered(tr profile.Trace) (share, mean float64) {
	n := 0.0
	for x := 0.5; x < b.Length; x += 0.25 {
		s, ok := tr.At(x)
		_, either := b.hidden(x)
		if !ok || either || b.square(x) || !b.clear(x) {
			continue
		}
		n++
		mean += s.U
		if 2*math.Abs(s.R-b.radius(x)) <= s.U {
			share++
		}
	}
	return share / n, mean / n
}

// hidden reports whether station x is hidden on both sides, and whether it is on either or within 0.2 mm of that.
func (b benchPiece) hidden(x float64) (both, either bool) {
	for _, d := range b.Hidden {
		if x >= d.X0-0.2 && x <= d.X1+0.2 {
			either = true
			both = both || d.Side == "both" && x >= d.X0 && x <= d.X1
		}
	}
	return both, either
}
