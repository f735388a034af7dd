package app

import (
	"context"
	"image"

	"spindlestick/app/job"
)

// Tracer is what the window needs of whatever reads photographs.
type Tracer interface {
	job.Tracer
	// Picture returns the photograph upright, for showing. Pixel positions everywhere are in this picture.
	Picture(ctx context.Context, data []byte, name string) (image.Image, error)
}

// Services are what the window is given to work with.
type Services struct {
	Tracer Tracer
	// Go runs work beside the window; nil = on a goroutine of its own. Tests run it in place.
	Go func(func())
}

func (s Services) start(work func()) {
	if s.Go != nil {
		s.Go(work)
		return
	}
	go work()
}
