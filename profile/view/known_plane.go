package view

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

// KnownOptions say what is known of a picture without a scale in it.
type KnownOptions struct {
	Width, Height int
	Focal         Focal
	Known         []KnownDiameter // mm
	Length        float64         // overall, mm; 0 = unknown
	TiltSigma     float64         // as in RuleOptions
}

// FromKnown makes a reference of the piece itself: the plane through its axis, square to the picture, at the
// distance that makes the outline's widths and length in pixels agree with the known sizes. It is good to a per cent
// or so: perspective is left to the trace, which FitScale then scales again. The plane's frame has its origin at
// the middle of the outline's axis, x to the right of the picture.
func FromKnown(outline Outline, o KnownOptions) (Reference, error) {
	if o.Width <= 0 || o.Height <= 0 {
		return Reference{}, fmt.Errorf("%w: the picture has no size", ErrReference)
	}
	if o.TiltSigma == 0 {
		o.TiltSigma = heldSquare
	}
	t, err := pixelTrace(outline)
	if err != nil {
		return Reference{}, err
	}
	fit, err := FitScale(t, o.Known, o.Length, 0)
	if err != nil {
		return Reference{}, err
	}
	f := o.Focal.orAssumed()
	lens := f.lens(o.Width, o.Height)
	c := lens.Camera
	middle := c.Undistort(r2.Scale(0.5, r2.Add(outline.Axis[0], outline.Axis[1])))
	ref := Reference{
		Camera: c,
		Plane: Pose{
			R: fromColumns(r3.Vec{X: 1}, r3.Vec{Y: -1}, r3.Vec{Z: -1}),
			T: r3.Scale(fit.K*c.F, r3.Vec{X: middle.X, Y: middle.Y, Z: 1}),
		},
		SigmaF: f.Sigma, SigmaK1: lens.SigmaK1,
		Notes: noteOf(f),
	}
	ref.Cov = squareCov(ref, lens, o.TiltSigma, fit.K)
	return ref.withScaleSigma(fit.Sigma), nil
}

func noteOf(f Focal) []string {
	if f.Note == "" {
		return nil
	}
	return []string{f.Note}
}

// squareCov is the covariance of a plane taken as square at a scale of k mm a pixel: the distance goes with the
// focal length, and the origin stays on its pixel when the middle of the lens moves.
func squareCov(r Reference, lens Lens, tilt, k float64) [][]float64 {
	cov := make([][]float64, nCommon)
	for i := range cov {
		cov[i] = make([]float64, nCommon)
	}
	add := func(sigma float64, d map[int]float64) {
		for i, a := range d {
			for j, b := range d {
				cov[i][j] += sigma * sigma * a * b
			}
		}
	}
	add(r.SigmaF, map[int]float64{atF: r.Camera.F, atShift + 2: r.Plane.T.Z})
	add(lens.SigmaCentre, map[int]float64{atCx: 1, atShift: -k})
	add(lens.SigmaCentre, map[int]float64{atCy: 1, atShift + 1: -k})
	add(r.SigmaK1, map[int]float64{atK1: 1})
	add(lens.SigmaK2, map[int]float64{atK2: 1})
	add(tilt, map[int]float64{atTurn: 1})
	add(tilt, map[int]float64{atTurn + 1: 1})
	return cov
}

// pixelTrace reads an outline as a trace in pixels: half of what lies between its sides, along its axis.
func pixelTrace(o Outline) (profile.Trace, error) {
	along := r2.Sub(o.Axis[1], o.Axis[0])
	length := r2.Norm(along)
	if !(length > 1) || len(o.Sides[0]) < 2 || len(o.Sides[1]) < 2 {
		return profile.Trace{}, fmt.Errorf("%w: there is no outline yet", ErrKnown)
	}
	u := r2.Scale(1/length, along)
	t := profile.Trace{Length: length}
	left, right := widths(o.Sides[0], o.Axis[0], u), widths(o.Sides[1], o.Axis[0], u)
	for i := range int(length) + 1 {
		x := float64(i)
		if i == int(length) {
			x = length
		}
		t.Samples = append(t.Samples, profile.Sample{X: x, R: (left.at(x) + right.at(x)) / 2, State: profile.Visible})
	}
	return t, nil
}

// run is a side of an outline as distances from the axis at growing places along it, px.
type run struct{ x, r []float64 }

// widths measures a side from the axis through origin along u. Where the outline turns back under an overhang the
// points there are passed over.
func widths(side []EdgePoint, origin, u r2.Vec) run {
	var out run
	for _, p := range side {
		d := r2.Sub(p.P, origin)
		x := r2.Dot(d, u)
		if n := len(out.x); n > 0 && x <= out.x[n-1] {
			continue
		}
		out.x = append(out.x, x)
		out.r = append(out.r, math.Abs(r2.Cross(u, d)))
	}
	return out
}

// at interpolates, and holds the ends.
func (w run) at(x float64) float64 {
	n := len(w.x)
	if x <= w.x[0] {
		return w.r[0]
	}
	i := sort.SearchFloat64s(w.x, x)
	if i == n {
		return w.r[n-1]
	}
	f := (x - w.x[i-1]) / (w.x[i] - w.x[i-1])
	return w.r[i-1] + f*(w.r[i]-w.r[i-1])
}
