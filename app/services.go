package app

import (
	"context"
	"image"
	"time"

	"fyne.io/fyne/v2"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/app/job"
	"spindlestick/profile/view"
)

// Tracer is what the window needs of whatever reads photographs.
type Tracer interface {
	job.Tracer
	// Picture returns the photograph upright, for showing. Pixel positions everywhere are in this picture.
	Picture(ctx context.Context, data []byte, name string) (image.Image, error)
	// Snap finds the edge along a line drawn by hand over that picture; inside is a place within the piece.
	Snap(img image.Image, line []r2.Vec, inside r2.Vec) ([]view.EdgePoint, error)
}

// Calibrator is what the window needs of whatever measures cameras: the calibration that the photographs of one board at paths
// show. progress is told as job.Progress is. It gives up with ctx's error when ctx ends.
type Calibrator interface {
	Calibrate(ctx context.Context, paths []string, progress func(stage string, done float64)) (view.Calibration, error)
}

// Services are what the window is given to work with.
type Services struct {
	Tracer Tracer
	// Go runs work beside the window; nil = on a goroutine of its own. Tests run it in place.
	Go func(func())
	// After calls f once d has passed, unless stop is called before; nil = a timer. Tests let no time pass.
	After func(d time.Duration, f func()) (stop func())
	// Fault says which step puts right an error of the Tracer; nil = another photograph does.
	Fault func(err error) Fault
	// Unsaved is the folder for work that no file holds; empty = it is not kept.
	Unsaved string
	// Cameras are the measured cameras; without a folder none are kept.
	Cameras job.Calibrations
	// Calibrator measures cameras; nil = they cannot be measured.
	Calibrator Calibrator
	// Example is a photograph that shows what the program does; empty = none.
	Example Example
}

// Example is a photograph with what is known of it.
type Example struct {
	Name  string
	Photo []byte
	Hints view.Hints
}

func (s Services) start(work func()) {
	if s.Go != nil {
		s.Go(work)
		return
	}
	go work()
}

func (s Services) after(d time.Duration, f func()) (stop func()) {
	if s.After != nil {
		return s.After(d, f)
	}
	t := time.AfterFunc(d, func() { fyne.Do(f) })
	return func() { t.Stop() }
}
