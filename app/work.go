package app

import (
	"context"
	"errors"
	"image"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"spindlestick/app/job"
	"spindlestick/profile/view"
)

// trace goes from a photograph to a pattern beside the window. When it fails, the photograph stays up with the reason,
// so that the user can point at what was not found.
func (w *Window) trace(data []byte, name string, hints view.Hints) {
	if len(data) == 0 {
		w.say(lang.L("Open a photograph first."))
		return
	}
	ctx, turn := w.busy.begin()
	title := w.model.job.Title
	same := len(w.model.job.Photo) > 0 && &w.model.job.Photo[0] == &data[0]
	w.services.start(func() {
		var shown *pyramid
		if !same {
			img, err := w.services.Tracer.Picture(ctx, data, name)
			if err != nil {
				w.ended(turn, func() { w.fail(err) })
				return
			}
			shown = newPyramid(img)
			fyne.Do(func() { w.lookAt(ctx, shown, job.Job{Photo: data, PhotoName: filepath.Base(name), Hints: hints}) })
		}
		j, err := job.Trace(ctx, w.services.Tracer, w.services.Cameras, data, name, hints, func(stage string, done float64) {
			fyne.Do(func() { w.busy.report(turn, stage, done) })
		})
		if same && title != "" {
			j.Title = title
		}
		w.ended(turn, func() { w.traced(j, err) })
	})
}

// ended runs f on the UI goroutine unless the work was stopped or another began.
func (w *Window) ended(turn int, f func()) {
	fyne.Do(func() {
		if w.busy.end(turn) {
			f()
		}
	})
}

// lookAt shows a photograph that is about to be traced.
func (w *Window) lookAt(ctx context.Context, p *pyramid, j job.Job) {
	if ctx.Err() != nil {
		return
	}
	w.model.load(j, "", true)
	w.tracks.photo = p
	w.picture.show(p)
	w.showPicture(true)
}

// traced takes the result of a trace.
func (w *Window) traced(j job.Job, err error) {
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			w.fail(err)
		}
		return
	}
	if w.model.traced() {
		j.Copies, j.Note = w.model.job.Copies, w.model.job.Note // they are the piece's, not the trace's
		w.model.replace(lang.L("trace again"), j)
	} else {
		w.model.load(j, w.model.path, true)
	}
	w.tracks.fit()
	w.showPicture(false)
	w.showStep(stepPattern)
	w.say(counted("{{.N}} elements found. Drag a line to move a station; click an element to change it.", len(j.Pattern.Elements)))
}

// open opens a photograph or a job by its content.
func (w *Window) open(path string) {
	ctx, turn := w.busy.begin()
	w.busy.report(turn, phrase("Opening {{.File}}", "File", filepath.Base(path)), 0)
	w.services.start(func() {
		data, err := readFile(path)
		if err != nil {
			w.ended(turn, func() { w.say(plainly(err)) })
			return
		}
		if !isPhoto(path, data) {
			j, err := job.Open(path)
			var shown *pyramid
			if err == nil && len(j.Photo) > 0 {
				shown, err = w.pyramidOf(ctx, j)
			}
			w.ended(turn, func() { w.opened(path, j, shown, err) })
			return
		}
		w.ended(turn, func() { w.trace(data, path, view.Hints{}) })
	})
}

func (w *Window) pyramidOf(ctx context.Context, j job.Job) (*pyramid, error) {
	var img image.Image
	img, err := w.services.Tracer.Picture(ctx, j.Photo, j.PhotoName)
	if err != nil {
		return nil, err
	}
	return newPyramid(img), nil
}

// opened takes a job or a pattern that was read from a file.
func (w *Window) opened(path string, j job.Job, p *pyramid, err error) {
	if err != nil {
		w.say(plainly(err))
		return
	}
	name := filepath.Base(path)
	if filepath.Ext(path) != job.Extension {
		path = "" // a pattern alone is saved as a job of its own
	}
	w.putUp(path, j, p)
	w.remember(path)
	w.say(phrase("Opened {{.File}}.", "File", name))
}

// putUp puts a job on the bench. path is its file; empty = none holds it.
func (w *Window) putUp(path string, j job.Job, p *pyramid) {
	w.model.load(j, path, path == "")
	w.tracks.show(p)
	w.picture.show(p)
	w.showPicture(false)
	w.showStep(stepPattern)
}

// readPiece reads a job or a pattern, or traces a photograph, beside the window.
func (w *Window) readPiece(ctx context.Context, turn int, path string, hints view.Hints) (job.Job, error) {
	data, err := readFile(path)
	if err != nil {
		return job.Job{}, err
	}
	if !isPhoto(path, data) {
		return job.Open(path)
	}
	return job.Trace(ctx, w.services.Tracer, w.services.Cameras, data, path, hints, func(stage string, done float64) {
		fyne.Do(func() { w.busy.report(turn, stage, done) })
	})
}
