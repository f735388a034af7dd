package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile/lsq"
)

// group is a set of points at known places of the reference plane: a board, or a rule's graduations.
type group struct {
	at    []r2.Vec // mm, in the group's own frame
	seen  []r2.Vec // px
	sigma float64  // px
	place r3.Vec   // X, Y (mm) and turn Z (radians) of the group's frame in the plane's; that of the first is zero
}

// model is one camera over one plane with groups of points in it: the unknowns of an adjustment.
type model struct {
	camera Camera
	plane  Pose
	groups []group
	prior  Focal
	// square is the standard deviation (radians) of the plane's tilt to the picture, along and across its x
	// axis, where the points cannot tell; 0 = nothing is known of the tilt.
	square float64
}

const (
	// k1Sigma is the spread of lenses and of the correction that cameras apply themselves: 0.03 is 2 % of
	// stretch in the corners of a 26 mm equivalent.
	k1Sigma = 0.03
	// k2Sigma: what k2 adds in those corners is of the order of what k1 does there.
	k2Sigma = 0.02
	// centreShare is how far a lens' axis passes from the middle of the picture, as a fraction of its diagonal:
	// 20 px at 12 megapixels.
	centreShare = 0.004
	// huberLimit is where a corner starts to count as wrong, in its standard deviations: 2 keeps 95 % of the
	// efficiency on normal noise (Huber 1964: 1.345 for exactly 95 %; here one corner in twenty is above).
	huberLimit = 2
	// iterations let a search that starts an octave off in focal length arrive; a good start takes ten.
	iterations = 300
	// roughly is close enough to tell good starts from bad, exactly is far under what one corner's noise does
	// to the cost.
	roughly, exactly = 1e-3, 1e-9
	// behind is the residual of a point that a trial camera cannot see: far over any real one, yet finite.
	behind = 1e4
)

// priors is the number of residuals that come before those of the points: F, Cx, Cy, K1, K2.
const priors = 5

// count returns the number of residuals: the camera's priors, two a point, two on the tilt.
func (m model) count() int {
	n := priors
	for _, g := range m.groups {
		n += 2 * len(g.at)
	}
	if m.square > 0 {
		n += 2
	}
	return n
}

// at returns the model moved by parameters p: ln F, Cx, Cy, K1, K2, rotation vector, T, then X, Y, turn of each
// group after the first. Zero is the model itself. The distance follows F, as the size in the picture demands: else the
// search would have to feel its way along a bent valley.
func (m model) at(p []float64) model {
	m.camera.F *= math.Exp(p[atF])
	m.camera.Cx += p[atCx]
	m.camera.Cy += p[atCy]
	m.camera.K1 += p[atK1]
	m.camera.K2 += p[atK2]
	m.plane = m.plane.rotated(vec3(p[atTurn:]))
	m.plane.T.Z *= math.Exp(p[atF])
	m.plane.T = r3.Add(m.plane.T, vec3(p[atShift:]))
	groups := append([]group(nil), m.groups...)
	for i := 1; i < len(groups); i++ {
		groups[i].place = r3.Add(groups[i].place, vec3(p[nCommon+3*(i-1):]))
	}
	m.groups = groups
	return m
}

// residuals fills r with the model's residuals over their standard deviations.
func (m model) residuals(r []float64) {
	lens := m.prior.lens(m.camera.Width, m.camera.Height)
	r[0] = math.Log(m.camera.F/lens.Camera.F) / m.prior.Sigma
	off := lens.misses(m.camera)
	i := 1 + copy(r[1:], off[:])
	for _, g := range m.groups {
		place := m.inCamera(g)
		for k := range g.at {
			d, ok := m.miss(g, k, place)
			if !ok {
				d = r2.Vec{X: behind, Y: behind}
			}
			r[i], r[i+1] = d.X/g.sigma, d.Y/g.sigma
			i += 2
		}
	}
	if m.square > 0 {
		r[i], r[i+1] = m.plane.R[2][0]/m.square, m.plane.R[2][1]/m.square
	}
}

// inCamera returns the pose of a group's own frame.
func (m model) inCamera(g group) Pose {
	return Pose{
		R: multiply(m.plane.R, rotation(r3.Vec{Z: g.place.Z})),
		T: m.plane.ToCamera(r3.Vec{X: g.place.X, Y: g.place.Y}),
	}
}

// miss returns the seen minus the computed position of point k of a group at a pose, px; false if the camera
// cannot see it.
func (m model) miss(g group, k int, at Pose) (r2.Vec, bool) {
	q, ok := m.camera.Project(at.ToCamera(r3.Vec{X: g.at[k].X, Y: g.at[k].Y}))
	return r2.Sub(g.seen[k], q), ok
}

// solve moves the model to where it fits best, to a fraction of its cost, and returns the fit, whose parameters are about that place.
func (m model) solve(tolerance float64) (model, lsq.Result, error) {
	n := nCommon + 3*(len(m.groups)-1)
	res, err := lsq.Solve(lsq.Problem{
		Start: make([]float64, n), Count: m.count(),
		Residuals: func(p, r []float64) { m.at(p).residuals(r) },
		Jacobian:  m.jacobian,
		Lower:     m.bounds(n, -1), Upper: m.bounds(n, 1), Scale: m.scales(n),
	}, lsq.Settings{Huber: huberLimit, Iterations: iterations, Tolerance: tolerance})
	if err != nil {
		return m, res, err
	}
	return m.at(res.P), res, nil
}

// scales are typical sizes of the parameters, for differences.
func (m model) scales(n int) []float64 {
	s := make([]float64, n)
	d := r3.Norm(m.plane.T)
	for i := range s {
		s[i] = d
	}
	s[atF], s[atCx], s[atCy], s[atK1], s[atK2] = 1, m.camera.F, m.camera.F, 1, 1
	for i := range 3 {
		s[atTurn+i] = 1
	}
	for i := nCommon + 2; i < n; i += 3 {
		s[i] = 1
	}
	return s
}

// bounds keep the search among cameras that can have taken the picture: any focal length that ChooseFocal takes,
// a lens axis inside the picture, and k1 whose fold lies outside it, or that of a calibration give or take.
func (m model) bounds(n int, side float64) []float64 {
	c := m.camera
	b := make([]float64, n)
	for i := range b {
		b[i] = math.Inf(int(side))
	}
	limit := NewCamera(c.Width, c.Height, longestFocal)
	if side < 0 {
		limit = NewCamera(c.Width, c.Height, shortestFocal)
	}
	b[atF] = math.Log(limit.F / c.F)
	b[atCx] = side * float64(c.Width) / 2
	b[atCy] = side * float64(c.Height) / 2
	// Seen at the fold: 2/3 sqrt(-1/(3 k1)); it must not come nearer than the corner, at the focal length
	// the search starts from.
	corner := math.Hypot(float64(c.Width), float64(c.Height)) / 2 / c.F
	most := math.Max(side*c.K1, math.Min(0.5, 4/(27*corner*corner)))
	if l := m.prior.Lens; l != nil {
		most = math.Max(most, side*l.Camera.K1+4*l.SigmaK1)
	}
	b[atK1] = side*most - c.K1
	return b
}
