package vision

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"spindlestick/profile/view"
	"spindlestick/vision/internal/guard"
)

// ErrCalibrate is wrapped by the errors of photographs that do not show what a camera is like.
var ErrCalibrate = errors.New("the camera cannot be measured")

const (
	// leastPhotos: two tilted views fix the focal length and the middle (Zhang, PAMI 22(11):1330), a third shows whether
	// they agree.
	leastPhotos = 3
	// mostPhotos bounds the solution, whose cost grows with the cube of the views: 40 take about two seconds.
	mostPhotos = 40
	// leastFocal is the standard deviation of the focal length, as a fraction, from which a calibration is worth having:
	// refocusing moves it by as much.
	leastFocal = 0.005
	// flatBoard is the largest residual, px, of corners that are found to a twentieth of that: above it the board is bent.
	flatBoard = 1.0
	// readShare is how much of a calibration's time the photographs take.
	readShare = 0.9
)

// Calibrator measures cameras.
type Calibrator struct{}

// Calibrate measures a camera from the photographs at paths: three or more of one board, tilted a different way in each.
// The size of its squares does not matter. progress may be nil.
func (Calibrator) Calibrate(ctx context.Context, paths []string, progress func(stage string, done float64)) (view.Calibration, error) {
	if progress == nil {
		progress = func(string, float64) {}
	}
	if n := len(paths); n < leastPhotos || n > mostPhotos {
		return view.Calibration{}, fmt.Errorf("%w: it takes %d to %d photographs of one board, and these are %d", ErrCalibrate, leastPhotos, mostPhotos, n)
	}
	shots, err := readShots(ctx, paths, func(stage string, done float64) { progress(stage, readShare*done) })
	if err != nil {
		return view.Calibration{}, err
	}
	if err := oneCamera(shots); err != nil {
		return view.Calibration{}, fmt.Errorf("%w: %w", ErrCalibrate, err)
	}
	progress("Measuring the camera", readShare)
	c, err := calibrated(shots)
	if err != nil {
		return view.Calibration{}, fmt.Errorf("%w: %w", ErrCalibrate, err)
	}
	progress("Done", 1)
	return c, ctx.Err()
}

// calibrated solves for the camera and judges the solution.
func calibrated(shots []boardShot) (view.Calibration, error) {
	first := shots[0]
	views := make([]guard.View, len(shots))
	for i, s := range shots {
		views[i] = s.seen
	}
	flat, held, err := solveLens(views, first.width, first.height)
	if err != nil {
		return view.Calibration{}, err
	}
	if err := tiltedEnough(flat.Turns); err != nil {
		return view.Calibration{}, err
	}
	found, err := newBundle(flat, held, views, first.width, first.height).bent()
	if err != nil {
		return view.Calibration{}, err
	}
	if err := worthHaving(found); err != nil {
		return view.Calibration{}, err
	}
	l, s := found.Lens, found.Sigma
	c := view.Calibration{
		Make: first.maker, Model: first.model, Width: first.width, Height: first.height, Focal35: first.focal35,
		F: l.F, Cx: l.Cx, Cy: l.Cy, K1: l.K1, K2: l.K2,
		SigmaF: s.F, SigmaCx: s.Cx, SigmaCy: s.Cy, SigmaK1: s.K1, SigmaK2: s.K2,
		Photos: len(shots), RMS: found.RMS, Date: time.Now().Format(view.DateLayout),
	}
	return c, c.Check()
}

// solveLens finds the camera as before flat boards. What the views tell worse than any lens is known is held at what any lens has.
func solveLens(views []guard.View, width, height int) (guard.Calibrated, guard.Fixed, error) {
	free, err := guard.Calibrate(views, width, height, guard.Fixed{})
	if err != nil {
		return free, guard.Fixed{}, fmt.Errorf("%w: tilt the board more, a different way in each photograph", err)
	}
	typical := view.TypicalLens(width, height, 1)
	fixed := guard.Fixed{Centre: math.Max(free.Sigma.Cx, free.Sigma.Cy) > typical.SigmaCentre, K2: free.Sigma.K2 > typical.SigmaK2}
	if fixed == (guard.Fixed{}) {
		return free, fixed, nil
	}
	held, err := guard.Calibrate(views, width, height, fixed)
	return held, fixed, err
}

// worthHaving refuses a solution that says less of the camera than its photographs do anyway.
func worthHaving(c guard.Calibrated) error {
	if c.RMS > flatBoard {
		return fmt.Errorf("the board's corners miss by %.2f px: fix the board to something flat, and photograph it sharply", c.RMS)
	}
	if s := c.Sigma.F / c.Lens.F; s > leastFocal {
		return fmt.Errorf("these photographs tell its focal length to %.1f %% only: let the board fill the picture, and tilt it by 30 to 45 degrees about its short side, about its long side and aslant", 100*s)
	}
	if s := c.Sigma.K1; s > view.TypicalLens(1, 1, 1).SigmaK1 {
		return errors.New("these photographs do not show how its lens bends lines: bring the board near the picture's corners and edges too")
	}
	return nil
}
