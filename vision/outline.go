package vision

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// Progress is told in plain words what is being done and which share of the work is done.
type Progress func(stage string, done float64)

// say reports progress, if anyone listens, and returns the context's error.
func (p Progress) say(ctx context.Context, stage string, done float64) error {
	if p != nil {
		p(stage, done)
	}
	return ctx.Err()
}

// FindOutline finds the silhouette of the turning in the photo. The boards and the rule are left out of
// the search; hints.Axis, if given, says where the piece lies. The error says what the user can do when
// the piece cannot be told from its surroundings.
func FindOutline(ctx context.Context, photo *Photo, hints view.Hints, boards []view.Board, rule *view.Rule, progress Progress) (view.Outline, error) {
	if photo.closed() {
		return view.Outline{}, ErrClosed
	}
	if err := checkAxis(photo, hints.Axis); err != nil {
		return view.Outline{}, err
	}
	if err := progress.say(ctx, "Looking for the piece", 0.4); err != nil {
		return view.Outline{}, err
	}
	d := &finder{photo: photo, c: newCover(boards, rule, hints.Rule), cam: camera(photo, hints),
		say: func(stage string, done float64) error { return progress.say(ctx, stage, done) }}
	if err := d.prepare(rule); err != nil {
		return view.Outline{}, err
	}
	o, err := d.locate(hints.Axis)
	if err != nil {
		return view.Outline{}, err
	}
	if a := hints.Axis; a != nil && r2.Dot(r2.Sub(o.Axis[1], o.Axis[0]), r2.Sub(a[1], a[0])) < 0 {
		o = turned(o)
	}
	return o, nil
}

// turned is the outline counted from its other end.
func turned(o view.Outline) view.Outline {
	o.Axis[0], o.Axis[1] = o.Axis[1], o.Axis[0]
	o.Sides[0], o.Sides[1] = o.Sides[1], o.Sides[0]
	o.Ends[0], o.Ends[1] = o.Ends[1], o.Ends[0]
	for k := range 2 {
		slices.Reverse(o.Sides[k])
		slices.Reverse(o.Ends[k])
	}
	return o
}

// camera is what is known of the camera before anything is measured; its focal length may be 0.
func camera(p *Photo, hints view.Hints) view.Camera {
	w, h := p.Size()
	f35 := hints.Focal35
	if f35 == 0 {
		f35 = p.Focal35()
	}
	const diagonal35 = 43.2666 // mm, of a 36 x 24 mm frame
	return view.Camera{F: f35 * math.Hypot(float64(w), float64(h)) / diagonal35,
		Cx: float64(w-1) / 2, Cy: float64(h-1) / 2, Width: w, Height: h}
}

// checkAxis refuses an axis that cannot be meant.
func checkAxis(p *Photo, axis *[2]r2.Vec) error {
	if axis == nil {
		return nil
	}
	w, h := p.Size()
	for _, q := range axis {
		if !(q.X >= -0.5 && q.Y >= -0.5 && q.X <= float64(w)-0.5 && q.Y <= float64(h)-0.5) {
			return fmt.Errorf("the end (%.0f, %.0f) of the axis lies outside the photo of %d x %d pixels", q.X, q.Y, w, h)
		}
	}
	if l := math.Hypot(axis[1].X-axis[0].X, axis[1].Y-axis[0].Y); l < leastAxis {
		return fmt.Errorf("the two ends of the axis are %.0f pixels apart: at least %d are needed to measure anything", l, leastAxis)
	}
	return nil
}

// leastAxis is the shortest axis taken, px: shorter pieces show no more than a few hundred edge points.
const leastAxis = 60

// locate finds the outline; axis, if given, runs between the two ends that the user pointed at.
func (d *finder) locate(axis *[2]r2.Vec) (view.Outline, error) {
	if axis == nil {
		return d.free(nil)
	}
	hint := newFrame(ordered(axis[0], axis[1]))
	if o, err := d.free(&hint); err == nil {
		return o, nil
	}
	return d.about(hint)
}

// about finds the outline about an axis that the user gave.
func (d *finder) about(f frame) (view.Outline, error) {
	for _, clear := range [...]float64{0.3, 0.15, 0.04} { // stout pieces first: nearer ground may be all piece
		var t trial
		if d.ways(aroundAxis(d.small, f, clear*f.L, d.hidden), func(w way) bool {
			return t.took(d.see(candidate{frame: f, half: hintedHalf * f.L, ground: w.ground, floor: w.floor}, true))
		}) {
			return t.result()
		}
	}
	return view.Outline{}, fmt.Errorf("%w: too little of the ground shows around the piece; take the photo with more of it", ErrUnsure)
}

// hintedHalf is the half-width that is looked for about an axis given by hand, as a share of its
// length: a stout pot is as wide as it is tall.
const hintedHalf = 0.5

// aroundAxis limits the ground to the surroundings of an axis, leaving out what lies within clear px of it.
func aroundAxis(s *small, f frame, clear float64, hidden []bool) func(x, y int) bool {
	return func(x, y int) bool {
		u, v := f.of(s.full(float64(x), float64(y)))
		near := u > -0.3*f.L && u < 1.3*f.L && math.Abs(v) < 0.8*f.L
		on := u > 0 && u < f.L && math.Abs(v) < clear
		return near && !on && !hidden[y*s.w+x]
	}
}
