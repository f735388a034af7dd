package view

import (
	"errors"
	"fmt"
	"slices"
	"sync"
)

// ErrMeasure is wrapped by every error of Measure.
var ErrMeasure = errors.New("the piece cannot be measured")

// Measure turns what was seen in a photograph into millimetres: the camera from the reference, the axis from the
// outline's symmetry and the way the piece lies, the meridian from the outline's rays. Known sizes correct the
// scale, or give it where there is no other.
func Measure(s Sighting, h Hints) (Measurement, error) {
	s.Outline = s.Outline.Corrected(h.Corrections)
	smoothed := make(chan silhouette, 1)
	go func() { smoothed <- newSilhouette(s.Outline) }()
	g, err := gauge(s, h)
	sil := <-smoothed
	sil.marks = squareMarks(h.Corrections)
	if err != nil {
		return Measurement{}, fmt.Errorf("%w: %w", ErrMeasure, err)
	}
	m, err := g.measure(sil)
	if err != nil {
		return m, fmt.Errorf("%w: %w", ErrMeasure, err)
	}
	return m, nil
}

// gauged is all that turns pixels into millimetres: the reference, how the piece lies, and known sizes.
type gauged struct {
	ref    Reference
	height Height
	sheet  float64 // how far the reference plane stands over what the piece lies on, mm
	known  []KnownDiameter
	length float64
	prior  float64 // standard deviation of the reference's scale, a fraction; 0 = it has none of its own
	free   bool    // the scale comes from known sizes alone
	// What the scale's own share of an uncertainty is called, and the camera's tilt where the scale does not show it.
	printReason, squareReason string
}

// measure measures an outline that has been smoothed.
func (g gauged) measure(sil silhouette) (Measurement, error) {
	sil.sheet = g.sheet
	at, fit, err := g.settle(sil)
	if err != nil {
		return Measurement{}, err
	}
	trace := at.trace()
	if share := at.agreed(trace); share < leastAgreed {
		return Measurement{}, fmt.Errorf("the two sides of the outline agree over only %.0f %% of the length, so it does not follow the piece: use softer light or a ground of another colour, or give the two ends with --axis", 100*share)
	}
	m := Measurement{Scene: at.scene, Outline: sil.outline, Trace: trace, Squares: at.squareStretches()}
	if fit != nil {
		m.Scene.SigmaScale = fit.Sigma
	}
	b := g.budget(sil, at, trace, fit)
	b.enter(&m.Trace)
	m.Notes = append(slices.Clone(sil.outline.Quality.Warnings), g.notes(at, m.CutOff(), m.Trace, b, fit)...)
	return m, nil
}

// settle places the silhouette, and once more where known sizes tell more of the reference than its scale.
func (g *gauged) settle(sil silhouette) (placed, *ScaleFit, error) {
	at, fit, err := g.place(sil, g.ref, g.prior)
	if err != nil || fit == nil {
		return at, fit, err
	}
	if g.free {
		// From here on the same one is to be found of several scales that one reading may fit.
		g.ref, fit.K = g.ref.Scaled(fit.K), 1
	}
	ref, more := g.informed(sil, at, *fit)
	if !more {
		return at, fit, nil
	}
	g.ref = ref
	again, second, err := g.place(sil, g.ref, g.variantPrior())
	if err == nil && g.free {
		g.ref = g.ref.Scaled(second.K)
		// There is no scale in the picture that the sizes could agree with; they agree with one another.
		second.Notes = append(fit.other(), g.sizesOf(again).misses()...)
	}
	return again, second, err
}

// variantPrior is the standard deviation of the scale of a reference that is nearly the one settled on.
func (g gauged) variantPrior() float64 {
	if g.free {
		return variantPrior
	}
	return g.prior
}

// place places the silhouette with one reference and corrects the scale by what is known.
func (g gauged) place(s silhouette, ref Reference, prior float64) (placed, *ScaleFit, error) {
	at, err := s.place(ref, g.height)
	if err != nil || len(g.known) == 0 && g.length == 0 {
		return at, nil, err
	}
	fit, err := FitScale(at.trace(), g.known, g.length, prior)
	if err != nil {
		return at, nil, err
	}
	return at.scaled(fit.K), &fit, nil
}

// scaled returns the placed silhouette with every distance multiplied by k.
func (a placed) scaled(k float64) placed {
	a.scene = a.scene.Scaled(k)
	a.p.D *= k
	a.p.Foot *= k
	for i := range a.ends {
		a.ends[i].x *= k
		a.ends[i].r *= k
		a.ends[i].face.half *= k
		a.ends[i].rim *= k
		a.ends[i].sigma *= k
		a.height[i] *= k
	}
	a.squares = append([]squareStretch(nil), a.squares...)
	for i := range a.squares {
		a.squares[i].x0 *= k
		a.squares[i].x1 *= k
		a.squares[i].half *= k
	}
	for i := range a.contours {
		a.contours[i].d *= k
		a.contours[i].foot *= k
		a.contours[i].top *= k
	}
	return a
}

// newSilhouette smooths an outline.
func newSilhouette(o Outline) silhouette {
	s := silhouette{outline: o, rough: o.Axis, ends: o.Ends}
	var wait sync.WaitGroup
	for i := range s.sides {
		wait.Go(func() { s.sides[i] = smooth(o.Sides[i]) })
	}
	wait.Wait()
	return s
}
