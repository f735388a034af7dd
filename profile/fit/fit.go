package fit

import (
	"errors"
	"fmt"
	"math"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// Options tune the fit. The zero value works.
type Options struct {
	// Noise is the least standard deviation that a sample of the trace is credited with, mm; 0 = 0.01.
	// Raise it to see fewer, broader elements.
	Noise float64
}

// leastNoise is under what any photograph of a turning gives, and keeps rounded numbers from being over-read.
const leastNoise = 0.02

// ErrTrace is wrapped by the errors about traces that no pattern fits.
var ErrTrace = errors.New("fit: the trace cannot be fitted")

// leastSamples is how many samples make a trace.
const leastSamples = 20

// Fit returns the pattern of trade elements that lies closest to a measurement.
func Fit(m view.Measurement, o Options) (profile.Pattern, error) {
	m.Trace = stated(m.Trace, m.Squares)
	pts, o, err := prepare(m.Trace, o)
	if err != nil {
		return profile.Pattern{}, err
	}
	f, tgt, err := solve(pts, m.Trace.Length, newEye(m), m.Squares, o)
	if err != nil {
		return profile.Pattern{}, err
	}
	plain, plainErr := pattern(&f, tgt, m.Trace)
	// Where the picture cannot be used, or leads away from what the trace shows plainly, what the trace gave stands.
	if g, err := throughCamera(m, f, tgt); err == nil {
		if p, err := pattern(&g, tgt, m.Trace); err == nil {
			p = restored(settleFlats(p, m.Trace), m.Trace)
			if plainErr != nil || grossLength(p, m.Trace) <= grossLength(plain, m.Trace)+math.Max(leastShape, grossPart*p.Length) {
				return p, nil
			}
		}
	}
	if plainErr != nil {
		return plain, plainErr
	}
	return settleFlats(plain, m.Trace), nil
}

// throughCamera refines a chain that the trace gave against the outline itself. A measurement without an outline
// keeps what the trace gave.
func throughCamera(m view.Measurement, f fitted, tgt *target) (fitted, error) {
	if len(m.Outline.Sides[0])+len(m.Outline.Sides[1]) == 0 {
		return f, nil
	}
	p, err := newPicture(m, &f.chain)
	if err != nil {
		return f, err
	}
	f.ties.roll = roll(m)
	f, err = p.refine(f.chain, f.ties, cameraIterations)
	if err != nil {
		return f, err
	}
	p.centre(&f)
	p.turn(&f)
	p.reweigh(&f)
	f = p.polish(p.contest(p.polish(f)))
	f.claim(tgt.pts)
	f, err = p.refine(f.chain, f.ties, contestIterations)
	if err != nil {
		return f, err
	}
	f.tieOgees()
	f.chain, f.ties = f.prune()
	f = p.polish(f)
	if f, err = p.refine(f.chain, f.ties, cameraIterations); err != nil {
		return f, err
	}
	return p.withoutSlivers(f), nil
}

// Trace returns the pattern of trade elements that lies closest to a trace, without a camera.
func Trace(t profile.Trace, o Options) (profile.Pattern, error) {
	pts, o, err := prepare(t, o)
	if err != nil {
		return profile.Pattern{}, err
	}
	f, tgt, err := solve(pts, t.Length, eye{}, nil, o)
	if err != nil {
		return profile.Pattern{}, err
	}
	return pattern(&f, tgt, t)
}

// prepare returns the points of a trace and the options with their defaults.
func prepare(t profile.Trace, o Options) ([]point, Options, error) {
	if o.Noise == 0 {
		o.Noise = leastNoise
	}
	o.Noise = max(o.Noise, correlated(t))
	pts := points(t)
	if len(pts) < leastSamples || !(t.Length > 0) {
		return nil, o, fmt.Errorf("%w: %d of its samples carry data, a length of %.1f mm needs at least %d: trace the piece again", ErrTrace, len(pts), t.Length, leastSamples)
	}
	return pts, o, nil
}

func pattern(f *fitted, tgt *target, t profile.Trace) (profile.Pattern, error) {
	p := profile.Pattern{Length: t.Length, ULength: t.ULength, Elements: newQuality(f, tgt, t).name()}
	if err := p.Validate(); err != nil {
		return p, fmt.Errorf("%w: what it gives cannot be turned (%v): look at the outline for what does not belong to the piece", ErrTrace, err)
	}
	return p, nil
}

// Iterations of the two refinements: the first only has to make the shapes clear.
const (
	roughIterations = 15
	fineIterations  = 25
)

// solve cuts, refines, judges and refines again with the ties.
func solve(pts []point, length float64, from eye, known []view.SquareStretch, o Options) (fitted, *target, error) {
	sigma := noise(pts, o.Noise)
	c := build(pts, from.flatten(pts, cut(pts, sigma, from), known), length, sigma)
	if len(c.links) == 0 {
		return fitted{}, nil, fmt.Errorf("%w: no line or arc was found in it", ErrTrace)
	}
	t := newTarget(pts, &c, sigma)
	t.known = known
	f, err := t.refine(c, noTies(&c), roughIterations)
	if err != nil {
		return f, nil, err
	}
	c, tie := f.tie(t)
	f, err = t.refine(t.compete(c, tie), tie, fineIterations)
	return f, t, err
}
