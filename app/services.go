package app

import (
	"context"
	"image"

	"spindlestick/app/job"
	"spindlestick/profile/view"
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
	// Unsaved is the folder for work that no file holds; empty = it is not kept.
	Unsaved string
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
