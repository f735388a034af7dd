package view

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// silhouette is an outline smoothed once, whatever scene it is then looked at in.
type silhouette struct {
	outline Outline // as it was before smoothing
	rough   [2]r2.Vec
	sides   [2]smoothed
	seen    [2]seenSide // the same through the camera in use
	ends    [2][]EdgePoint
	known   *[2]endFace     // the ends in a scene that is nearly the same; nil = nothing known
	variant bool            // the scene is a variant of that one: an end that is no rim there is none here
	squares []squareStretch // of that scene
	marks   []squareMark
	start   float64 // a first guess of the axis' height over the plane, mm
	sheet   float64 // how far the reference plane stands over what the piece lies on, mm
}

// placed is a silhouette with the axis that a reference and a height give it.
type placed struct {
	scene    Scene
	p        Projector
	mirror   meridianPlane
	contours [2]contour
	ends     [2]endFace
	squares  []squareStretch
	height   [2]float64 // of the axis over the plane at its two ends, mm
	marks    []squareMark
	passed   [2][]span // stations of each side that the user passes over
	unseen   [2][]span // stations where a side could not be made out
}

// largestSteps bounds the search for a height that depends on the radius it gives. Each step gains the ratio of
// radius to distance, more than a factor of five.
const largestSteps = 12

// thickest is the largest ratio of radius to distance that can be a turning before a camera.
const thickest = 0.8

// longest is the longest piece, mm: no lathe takes 10 m.
const longest = 10000

// squareRounds bounds how often the plane of symmetry is found again once the squares are known; settledPlane is by how
// much it may still move, mm.
const squareRounds, settledPlane = 4, 1e-3

// settled is by how much a height may still move when it counts as found, mm.
const settled = 1e-5

// place finds the axis in the silhouette and stands it over the reference plane.
func (s silhouette) place(ref Reference, h Height) (placed, error) {
	for side := range s.sides {
		s.seen[side] = s.sides[side].through(ref.Camera)
	}
	m, err := mirrorPlane(ref.Camera, s.rough, s.known != nil, s.seen)
	if err != nil {
		return placed{}, err
	}
	at, err := s.lay(ref, m, h)
	for range squareRounds {
		if err != nil || len(at.squares) == 0 {
			break
		}
		m, moved := at.unslanted()
		if moved*at.p.D < settledPlane {
			break
		}
		at, err = s.lay(ref, m, h)
	}
	if err != nil {
		return at, err
	}
	for e, cut := range cutOff(s.outline, ref.Camera) {
		if cut { // the picture's edge is where it is
			at.ends[e].sigma = at.p.MMPerPixel(at.ends[e].x)
		}
	}
	for k := range at.passed {
		at.passed[k] = at.stretches(s.outline.Sides[k], profile.Inferred)
		at.unseen[k] = at.stretches(s.outline.Sides[k], profile.Hidden)
	}
	return at, nil
}

// lay stands the axis in a known plane of symmetry over the reference plane.
func (s silhouette) lay(ref Reference, m meridianPlane, h Height) (placed, error) {
	switch h.Mode {
	case Raised:
		return s.parallel(ref, m, 0)
	case Fixed:
		return s.parallel(ref, m, h.Value)
	case Level:
		return s.level(ref, m)
	case Lies, "":
		return s.lying(ref, m)
	}
	return placed{}, fmt.Errorf("%w: %q is not a way to lie (raised, level, lies or a height)", ErrHeight, h.Mode)
}

func (s silhouette) parallel(ref Reference, m meridianPlane, h float64) (placed, error) {
	l, err := m.lineAt(ref.Plane, h)
	if err != nil {
		return placed{}, err
	}
	return s.on(ref, m, l)
}

// on looks at the silhouette with a given axis and finds the ends.
func (s silhouette) on(ref Reference, m meridianPlane, l Line) (placed, error) {
	scene := Scene{Camera: ref.Camera, Plane: ref.Plane, Axis: l, SigmaF: ref.SigmaF, SigmaScale: ref.SigmaScale}
	p, err := NewProjector(scene)
	if err != nil {
		return placed{}, err
	}
	out := placed{scene: scene, p: p, mirror: m, marks: s.marks}
	for side := range s.sides {
		out.contours[side] = newContour(p, s.seen[side], side)
		if c := &out.contours[side]; !(c.usual() > 0 && c.top < thickest*p.D) {
			return placed{}, fmt.Errorf("%w: side %d does not lie on its side of the axis; mark the ends anew", ErrSides, side+1)
		}
	}
	for e := range out.ends {
		if out.ends[e], err = out.findEnd(s, e); err != nil {
			return placed{}, err
		}
	}
	if !(out.ends[1].x > out.ends[0].x) {
		return placed{}, fmt.Errorf("%w: its far end comes before its near end", ErrSides)
	}
	if length := out.ends[1].x - out.ends[0].x; length > longest {
		return placed{}, fmt.Errorf("%w: the piece would be %.0f m long; check the scale", ErrSides, length/1000)
	}
	if s.variant {
		out.squares = out.sameSquares(s.squares)
	} else {
		out.squares = out.findSquares()
	}
	out.startAt(out.ends[0].x)
	for e := range out.height {
		at := out.scene.Plane.ToPlane(out.point(out.ends[e].x))
		out.height[e] = at.Z
	}
	return out, nil
}

// level lifts the axis to the largest radius, or half the largest square's side.
func (s silhouette) level(ref Reference, m meridianPlane) (placed, error) {
	h := s.start
	for range largestSteps {
		at, err := s.parallel(ref, m, h)
		if err != nil {
			return at, err
		}
		next := at.largest() - s.sheet
		if math.Abs(next-h) < settled {
			return at, nil
		}
		h, s.known = next, &at.ends
	}
	return s.parallel(ref, m, h)
}

// lying tilts the axis until the piece rests on the plane at two stations on either side of its middle.
func (s silhouette) lying(ref Reference, m meridianPlane) (placed, error) {
	at, err := s.level(ref, m)
	if err != nil {
		return at, err
	}
	s.known = &at.ends
	for range largestSteps {
		a, b := at.supports()
		// The axis' height over the plane is r over the cosine of its tilt there.
		cos := at.levelness()
		l, err := m.lineThrough(ref.Plane, at.p, at.p.U(a.X), a.Y/cos-s.sheet, at.p.U(b.X), b.Y/cos-s.sheet)
		if err != nil {
			return at, err
		}
		next, err := s.on(ref, m, l)
		if err != nil {
			return at, err
		}
		moved := math.Abs(next.height[0]-at.height[0]) + math.Abs(next.height[1]-at.height[1])
		at = next
		if moved < settled {
			break
		}
	}
	return at, nil
}
