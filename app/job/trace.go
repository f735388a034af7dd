package job

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"spindlestick/profile/fit"
	"spindlestick/profile/view"
)

// Progress is told what is being done, in plain words, and how much of the whole is done, 0 to 1.
type Progress func(stage string, done float64)

// Tracer reads a photograph: its reference and the outline of the piece. data is the file's content, name its name
// for messages. It gives up with ctx's error when ctx ends.
type Tracer interface {
	Sight(ctx context.Context, data []byte, name string, h view.Hints, progress func(stage string, done float64)) (view.Sighting, error)
}

// sightShare is how much of a trace's time the photograph takes; the rest is measuring and fitting.
const sightShare = 0.8

// Trace goes the whole way from a photograph to a pattern. A calibration of its camera among the cameras replaces the one in h.
// progress may be nil.
func Trace(ctx context.Context, t Tracer, cameras Calibrations, data []byte, name string, h view.Hints, progress Progress) (Job, error) {
	if progress == nil {
		progress = func(string, float64) {}
	}
	j := Job{Title: titleOf(name), PhotoName: filepath.Base(name), Photo: data, Hints: h}
	s, err := t.Sight(ctx, data, name, h, func(stage string, done float64) { progress(stage, sightShare*done) })
	if err != nil {
		return Job{}, err
	}
	j.Sighting = s
	if c := cameras.Find(s); c != nil {
		j.Hints.Calibration = c
	}
	return Measure(ctx, j, progress)
}

// Measure makes trace and pattern anew from what was read of the photograph, after its hints changed.
func Measure(ctx context.Context, j Job, progress Progress) (Job, error) {
	if progress == nil {
		progress = func(string, float64) {}
	}
	if err := ctx.Err(); err != nil {
		return Job{}, err
	}
	progress("Measuring through the camera", sightShare)
	m, err := view.Measure(j.Sighting, j.Hints)
	if err != nil {
		return Job{}, fmt.Errorf("measure %s: %w", j.PhotoName, err)
	}
	if err := ctx.Err(); err != nil {
		return Job{}, err
	}
	progress("Fitting the elements", (1+sightShare)/2)
	p, err := fit.Fit(m, fit.Options{})
	if err != nil {
		return Job{}, fmt.Errorf("fit %s: %w", j.PhotoName, err)
	}
	j.Measurement, j.Pattern = m, p
	j.read()
	progress("Done", 1)
	return j, nil
}

func titleOf(name string) string {
	base := filepath.Base(name)
	return strings.TrimSuffix(base, filepath.Ext(base))
}
