package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// CorrectionKind says what a correction does.
type CorrectionKind string

// The corrections of an outline.
const (
	// Ignore passes over what the outline shows under a stroke of a brush: the other side, or the elements beside it,
	// say what the piece is there.
	Ignore CorrectionKind = "ignore"
	// TrustSide passes over the other side between the stroke's two ends.
	TrustSide CorrectionKind = "trust side"
	// Redraw puts a boundary in place of a side's between its two ends.
	Redraw CorrectionKind = "redraw"
	// MarkSquare says that the piece is square between the stroke's two ends.
	MarkSquare CorrectionKind = "square"
)

// Correction is what the user puts right of an outline. Places are pixels of the upright picture, so that corrections
// outlast a new outline.
type Correction struct {
	Kind CorrectionKind `json:"kind"`
	// Path is the stroke's middle line; of all but Ignore the first and last point count along the axis.
	Path []r2.Vec `json:"path"`
	// Width of the stroke of Ignore, px.
	Width float64 `json:"width,omitempty"`
	// Side that TrustSide trusts and Redraw redraws.
	Side int `json:"side,omitempty"`
	// Turn of MarkSquare about the axis, from lying flat on the reference plane, radians: a quarter of pi is corner on.
	Turn float64 `json:"turn,omitempty"`
	// Points are the boundary of Redraw.
	Points []EdgePoint `json:"points,omitempty"`
}

// Corrected returns the outline with the corrections made, one after the other. Points that are passed over are marked as
// inferred; o is left alone.
func (o Outline) Corrected(cs []Correction) Outline {
	if len(cs) == 0 {
		return o
	}
	for k := range o.Sides {
		o.Sides[k] = append([]EdgePoint(nil), o.Sides[k]...)
		o.Ends[k] = append([]EdgePoint(nil), o.Ends[k]...)
	}
	for _, c := range cs {
		if len(c.Path) == 0 || c.Side < 0 || c.Side > 1 {
			continue
		}
		switch c.Kind {
		case Ignore:
			for k := range o.Sides {
				pass(o.Sides[k], c.covers)
				pass(o.Ends[k], c.covers)
			}
		case TrustSide:
			pass(o.Sides[1-c.Side], o.within(c.Path))
		case Redraw:
			o.Sides[c.Side] = o.redrawn(o.Sides[c.Side], c)
		}
	}
	return o
}

// pass marks the points that which names as passed over.
func pass(pts []EdgePoint, which func(p r2.Vec) bool) {
	for i := range pts {
		if which(pts[i].P) {
			pts[i].State = profile.Inferred
		}
	}
}

// covers reports whether the stroke covers p.
func (c Correction) covers(p r2.Vec) bool {
	for i := range c.Path {
		if toSegment(p, c.Path[max(0, i-1)], c.Path[i]) <= c.Width/2 {
			return true
		}
	}
	return false
}

// toSegment is the distance of p from the segment a to b.
func toSegment(p, a, b r2.Vec) float64 {
	d := r2.Sub(b, a)
	t := 0.0
	if n := r2.Norm2(d); n > 0 {
		t = math.Max(0, math.Min(1, r2.Dot(r2.Sub(p, a), d)/n))
	}
	return r2.Norm(r2.Sub(p, r2.Add(a, r2.Scale(t, d))))
}

// along is the place of p along the outline's axis, px from the hook end.
func (o Outline) along(p r2.Vec) float64 {
	d := r2.Sub(o.Axis[1], o.Axis[0])
	return r2.Dot(r2.Sub(p, o.Axis[0]), d) / math.Max(r2.Norm(d), 1e-9)
}

// stretch is what a path spans along the axis, px.
func (o Outline) stretch(path []r2.Vec) (lo, hi float64) {
	a, b := o.along(path[0]), o.along(path[len(path)-1])
	return math.Min(a, b), math.Max(a, b)
}

func (o Outline) within(path []r2.Vec) func(r2.Vec) bool {
	lo, hi := o.stretch(path)
	return func(p r2.Vec) bool {
		s := o.along(p)
		return s >= lo && s <= hi
	}
}

// redrawn puts the correction's boundary in place of the side's points that it spans.
func (o Outline) redrawn(side []EdgePoint, c Correction) []EdgePoint {
	if len(c.Points) < shortestRun {
		return side
	}
	pts := append([]EdgePoint(nil), c.Points...)
	if o.along(pts[0].P) > o.along(pts[len(pts)-1].P) {
		for i, j := 0, len(pts)-1; i < j; i, j = i+1, j-1 {
			pts[i], pts[j] = pts[j], pts[i]
		}
	}
	lo, hi := o.along(pts[0].P), o.along(pts[len(pts)-1].P)
	var out []EdgePoint
	done := false
	for _, e := range side {
		s := o.along(e.P)
		if s < lo {
			out = append(out, e)
			continue
		}
		if !done {
			out, done = append(out, pts...), true
		}
		if s > hi {
			out = append(out, e)
		}
	}
	if !done {
		out = append(out, pts...)
	}
	return out
}
