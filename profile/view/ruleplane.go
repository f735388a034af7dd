package view

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// RuleOptions say what is known before the rule is looked at.
type RuleOptions struct {
	Width, Height int   // of the upright picture, px
	Focal         Focal // zero: nothing is known, an assumption is made and noted
	// ScaleSigma is the standard deviation of the rule's own length as a fraction; 0 = 0.06 %: class II may be
	// 0.5 mm off on anything up to a metre (UK S.I. 2016/1153, Sch. 1I), evenly spread 0.3 mm, on half a metre.
	ScaleSigma float64
	// TiltSigma is the standard deviation of the plane's tilt to the picture where the rule cannot tell it,
	// radians; 0 = 2 degrees.
	TiltSigma float64
}

const (
	ruleScaleSigma = 0.0006
	// heldSquare is how squarely a camera is held by eye: 2 degrees (common practice, no source).
	heldSquare = 2 * math.Pi / 180
)

// FromRule finds the camera and the plane from a graduated rule lying in it. With the focal length given, the
// graduations fix the rule's line in space: its distance and its tilt along itself. The plane's tilt about that
// line shows nowhere, so it is taken as square to the picture, with TiltSigma; so is the tilt along a rule of which
// only two marks are known. The plane's frame has its origin at graduation 0, x along the rule, z towards the camera.
func FromRule(rule Rule, o RuleOptions) (Reference, error) {
	if o.Width <= 0 || o.Height <= 0 {
		return Reference{}, fmt.Errorf("%w: the picture has no size", ErrReference)
	}
	if o.TiltSigma == 0 {
		o.TiltSigma = heldSquare
	}
	if o.ScaleSigma == 0 {
		o.ScaleSigma = ruleScaleSigma
	}
	g, err := rule.group()
	if err != nil {
		return Reference{}, fmt.Errorf("%w: %w", ErrReference, err)
	}
	prior := o.Focal.orAssumed()
	m := model{camera: prior.lens(o.Width, o.Height).Camera, groups: []group{g}, prior: prior, square: o.TiltSigma}
	m.plane = m.alongRule()
	if m, _, err = m.solve(roughly); err != nil {
		return Reference{}, fmt.Errorf("%w: %w", ErrReference, err)
	}
	m, res, err := m.settle()
	if err != nil {
		return Reference{}, fmt.Errorf("%w: %w", ErrReference, err)
	}
	ref := m.reference(res).withScaleSigma(o.ScaleSigma)
	ref.Notes = append(ref.Notes, m.ruleNote(ref))
	return ref, nil
}

// group returns the graduations as points of the plane's x axis.
func (rule Rule) group() (group, error) {
	g := group{sigma: rule.Sigma, seen: rule.P}
	if !(g.sigma > 0) {
		g.sigma = cornerSigma
	}
	if len(rule.T) < 2 || len(rule.T) != len(rule.P) {
		return g, fmt.Errorf("the rule has %d graduations at %d places: mark two of them", len(rule.T), len(rule.P))
	}
	for i, t := range rule.T {
		if math.IsNaN(t-t) || !finite2(rule.P[i]) {
			return g, fmt.Errorf("graduation %d of the rule is not finite", i+1)
		}
		g.at = append(g.at, r2.Vec{X: t})
	}
	if lo, hi := extremes(rule.T); rule.T[lo] == rule.T[hi] || rule.P[lo] == rule.P[hi] {
		return g, errors.New("the rule's graduations lie on one point: mark two that are apart")
	}
	return g, nil
}

// extremes returns the places of the least and the largest value.
func extremes(v []float64) (lo, hi int) {
	for i := range v {
		if v[i] < v[lo] {
			lo = i
		}
		if v[i] > v[hi] {
			hi = i
		}
	}
	return lo, hi
}

// alongRule returns the pose of a plane parallel to the picture whose x axis lies along the first group's.
func (m model) alongRule() Pose {
	g := m.groups[0]
	t := make([]float64, len(g.at))
	for i, p := range g.at {
		t[i] = p.X
	}
	lo, hi := extremes(t)
	p, q := m.camera.Undistort(g.seen[lo]), m.camera.Undistort(g.seen[hi])
	d := r2.Sub(q, p)
	distance := (t[hi] - t[lo]) / r2.Norm(d)
	u := r2.Unit(d)
	x, z := r3.Vec{X: u.X, Y: u.Y}, r3.Vec{Z: -1}
	return Pose{
		R: fromColumns(x, r3.Cross(z, x), z),
		T: r3.Sub(r3.Scale(distance, r3.Vec{X: p.X, Y: p.Y, Z: 1}), r3.Scale(t[lo], x)),
	}
}

// ruleNote says what a rule leaves open.
func (m model) ruleNote(ref Reference) string {
	degrees := m.square * 180 / math.Pi
	tilt := math.Sqrt(math.Max(0, ref.variance(slopeAlong)))
	if tilt > observedShare*m.square {
		return fmt.Sprintf("Two marks on a rule do not show how the plane tilts: it is taken as square to the camera, give or take %.0f degrees.", degrees)
	}
	return fmt.Sprintf("A rule does not show how the plane tilts across it: it is taken as square to the camera, give or take %.0f degrees.", degrees)
}

// slopeAlong is the depth that the plane's x axis gains, the sine of its tilt to the picture.
func slopeAlong(r Reference) float64 { return r.Plane.R[2][0] }
