package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

// stage is a made-up photograph: a camera over a plane, a piece whose axis runs over it.
type stage struct {
	scene   Scene
	pattern profile.Pattern
}

// stageFor puts the pattern's axis over the plane, its middle below the camera but for shift (mm along and
// across), x to the right of the picture turned by roll, the plane tilted about both picture axes.
func stageFor(p profile.Pattern, distance, focal35, height float64, shift r2.Vec, roll, tiltX, tiltY float64) stage {
	c := NewCamera(4000, 3000, focal35)
	down := fromColumns(r3.Vec{X: 1}, r3.Vec{Y: -1}, r3.Vec{Z: -1})
	r := multiply(rotation(r3.Vec{X: tiltX, Y: tiltY}), multiply(rotation(r3.Vec{Z: roll}), down))
	pose := Pose{R: r, T: r3.Vec{Z: distance}}
	start := pose.ToCamera(r3.Vec{X: shift.X - p.Length/2, Y: shift.Y, Z: height})
	return stage{Scene{Camera: c, Plane: pose, Axis: Line{P: start, E: column(r, 0)}}, p}
}

// plain is a stage with nothing tilted: 1 m away, a normal lens, the axis in the plane.
func plain(p profile.Pattern) stage { return stageFor(p, 1000, 50, 0, r2.Vec{}, 0, 0, 0) }

// sighting is the outline of the stage's piece with points about step px apart and noise along their normals, and
// boards in the plane on either side of it.
func (s stage) sighting(t testing.TB, step, noise float64, rng *rand.Rand) Sighting {
	t.Helper()
	p, err := NewProjector(s.scene)
	if err != nil {
		t.Fatal(err)
	}
	l := p.Look(s.pattern)
	var o Outline
	o.Axis = [2]r2.Vec{p.ToPixel(p.U(0), 0), p.ToPixel(p.U(s.pattern.Length), 0)}
	for side := range o.Sides {
		o.Sides[side] = noisy(s.contour(p, l, side, step), side, noise, rng)
	}
	c := s.scene.Camera
	return Sighting{Width: c.Width, Height: c.Height, Focal35: c.Focal35(), Boards: s.boards(noise, rng), Outline: o}
}

// contour walks along a side from end to end, walls included.
func (s stage) contour(p Projector, l *Look, side int, step float64) []r2.Vec {
	lo, hi := seenReach(l, side)
	at := func(u float64) r2.Vec {
		w, ok := l.Width(u, side)
		if !ok {
			w = 0
		}
		return p.ToPixel(u, w*outward(side))
	}
	var out []r2.Vec
	var fill func(ua, ub float64, a, b r2.Vec)
	fill = func(ua, ub float64, a, b r2.Vec) {
		d := r2.Norm(r2.Sub(b, a))
		if d > step && ub-ua > 1e-12 {
			um := (ua + ub) / 2
			m := at(um)
			fill(ua, um, a, m)
			fill(um, ub, m, b)
			return
		}
		n := max(1, int(math.Ceil(d/step))) // a wall: no u between its ends
		for k := 1; k <= n; k++ {
			out = append(out, r2.Add(a, r2.Scale(float64(k)/float64(n), r2.Sub(b, a))))
		}
	}
	// The end of a square that lies flat is a wall from the axis outwards; of others nothing is left to walk there.
	between := func(u float64) r2.Vec {
		v, _ := l.Width(u, 1)
		w, _ := l.Width(u, 0)
		return p.ToPixel(u, (v-w)/2)
	}
	fill(lo, lo, between(lo), at(lo))
	n := int(r2.Norm(r2.Sub(p.ToPixel(hi, 0), p.ToPixel(lo, 0)))) + 1
	for k := range n {
		ua, ub := lo+(hi-lo)*float64(k)/float64(n), lo+(hi-lo)*float64(k+1)/float64(n)
		fill(ua, ub, at(ua), at(ub))
	}
	fill(hi, hi, at(hi), between(hi))
	return out
}

// seenReach narrows the reach to where something shows.
func seenReach(l *Look, side int) (lo, hi float64) {
	lo, hi = l.Reach()
	mid := (lo + hi) / 2
	edge := func(out float64) float64 {
		in := mid
		for range 60 {
			m := (in + out) / 2
			if _, ok := l.Width(m, side); ok {
				in = m
			} else {
				out = m
			}
		}
		return in
	}
	return edge(lo), edge(hi)
}

// noisy makes edge points, each moved along its normal.
func noisy(pts []r2.Vec, side int, noise float64, rng *rand.Rand) []EdgePoint {
	out := make([]EdgePoint, 0, len(pts))
	for i, q := range pts {
		d := r2.Sub(pts[min(i+1, len(pts)-1)], pts[max(i-1, 0)])
		if r2.Norm(d) == 0 {
			continue
		}
		n := r2.Scale(-outward(side), r2.Unit(r2.Vec{X: d.Y, Y: -d.X}))
		if noise > 0 {
			q = r2.Add(q, r2.Scale(noise*rng.NormFloat64(), n))
		}
		out = append(out, EdgePoint{P: q, N: n, Sigma: math.Max(noise, 0.001), State: profile.Visible})
	}
	return out
}

// boards lie 90 mm on either side of the axis, half the piece's length apart.
func (s stage) boards(noise float64, rng *rand.Rand) []Board {
	var out []Board
	for k, y := range []float64{90, -90} {
		b := Board{Rows: 5, Cols: 25 - k, Square: 10, Sigma: math.Max(noise, 0.01)}
		x0 := s.pattern.Length*(float64(k)-0.5)/2 - 120
		for i := range b.Rows - 1 {
			var row []r2.Vec
			for j := range b.Cols - 1 {
				w := r3.Vec{X: x0 + 10*float64(j), Y: y + 20 - 10*float64(i)}
				q, _ := s.scene.Camera.Project(s.scene.Plane.ToCamera(w))
				if noise > 0 {
					q = r2.Add(q, r2.Vec{X: noise * rng.NormFloat64(), Y: noise * rng.NormFloat64()})
				}
				row = append(row, q)
			}
			b.Corners = append(b.Corners, row)
		}
		out = append(out, b)
	}
	return out
}

// truth is the stage's own camera and plane as a reference.
func (s stage) truth() Reference { return Reference{Camera: s.scene.Camera, Plane: s.scene.Plane} }

// inch is exact since 1959.
const inch = 25.4

// taperPiece is the worked taper of 1 7/8 to 3/4 in over 26 in: half angle 1.239 degrees.
func taperPiece() profile.Pattern {
	return profile.Pattern{Length: 26 * inch, Elements: []profile.Element{
		{Kind: profile.Taper, X0: 0, X1: 26 * inch, D0: 1.875 * inch, D1: 0.75 * inch},
	}}
}

// spindle is a piece with every round kind and square shoulders.
func spindle() profile.Pattern {
	return profile.Pattern{Length: 400, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 60, D0: 30, D1: 30},
		{Kind: profile.Taper, X0: 60, X1: 150, D0: 30, D1: 40},
		{Kind: profile.Bead, X0: 150, X1: 170, D0: 40, D1: 40, Sagitta: 6},
		{Kind: profile.Cove, X0: 170, X1: 190, D0: 40, D1: 40, Sagitta: -5},
		{Kind: profile.Fillet, X0: 190, X1: 194, D0: 44, D1: 44},
		{Kind: profile.Vee, X0: 194, X1: 206, D0: 44, D1: 44, InnerX: 200, InnerD: 34},
		{Kind: profile.Cylinder, X0: 206, X1: 250, D0: 44, D1: 44},
		{Kind: profile.Ogee, X0: 250, X1: 300, D0: 44, D1: 26, InnerX: 275, InnerD: 35, Sagitta: 2},
		{Kind: profile.Swell, X0: 300, X1: 390, D0: 26, D1: 26, Sagitta: 3},
		{Kind: profile.Cylinder, X0: 390, X1: 400, D0: 34, D1: 34},
	}}
}

// newel has squares at both ends, one of them with a quarter shoulder.
func newel() profile.Pattern {
	side, corner := 44.0, 44*math.Sqrt2
	return profile.Pattern{Length: 600, Elements: []profile.Element{
		{Kind: profile.Square, X0: 0, X1: 110, D0: side, D1: side, Side: side},
		{Kind: profile.Shoulder, X0: 110, X1: 128, D0: corner, D1: 36, Side: side, Style: profile.Quarter, Sagitta: 4},
		{Kind: profile.Cylinder, X0: 128, X1: 140, D0: 36, D1: 36},
		{Kind: profile.Bead, X0: 140, X1: 160, D0: 32, D1: 32, Sagitta: 5},
		{Kind: profile.Taper, X0: 160, X1: 480, D0: 30, D1: 40},
		{Kind: profile.Cylinder, X0: 480, X1: 500, D0: 36, D1: 36},
		{Kind: profile.Square, X0: 500, X1: 600, D0: side, D1: side, Side: side},
	}}
}
