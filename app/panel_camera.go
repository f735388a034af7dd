package app

import (
	"context"
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile/view"
)

// cameraPanel says what is known of the photograph's camera, and has it measured.
type cameraPanel struct {
	w               *Window
	content         fyne.CanvasObject
	words           *widget.Label
	faults          *widget.Label // of the last measurement, and of files that cannot be used
	measure, forget *hintButton

	camera  view.Sighting     // whose calibration is shown: the camera's fields alone
	looked  bool              // the files were read for that camera
	known   *view.Calibration // nil = none
	photos  []string          // of the board, so far
	listing *fyne.Container   // of photos, while they are chosen
}

// cameraSection is the part of the Scale step that is about the camera.
func (w *Window) cameraSection() *cameraPanel {
	p := &cameraPanel{w: w, words: paragraph(""), faults: paragraph(""), listing: container.NewVBox()}
	p.measure = w.line.button(lang.L("Measure this camera…"), lang.L("Find focal length and distortion once, from photographs of one board; they count for every later photograph."), p.choose)
	p.forget = w.line.button(lang.L("Forget it…"), lang.L("Forget what was measured of this camera."), p.askForget)
	if w.services.Calibrator == nil || w.services.Cameras.Folder == "" {
		p.measure.Disable()
	}
	title := widget.NewLabelWithStyle(lang.L("Camera"), fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	p.content = container.NewVBox(title, p.words, container.NewGridWithColumns(2, p.measure, p.forget), p.faults)
	p.fault("")
	w.model.watch(p.update)
	p.update()
	return p
}

// update shows the calibration of the photograph's camera. The files are read only when another camera comes up: the model
// changes with every move of the mouse.
func (p *cameraPanel) update() {
	s := p.w.model.job.Sighting
	camera := view.Sighting{Make: s.Make, Model: s.Model, Width: s.Width, Height: s.Height, Focal35: s.Focal35}
	if !p.looked || !sameCamera(camera, p.camera) {
		p.look(camera)
	}
	show := p.known
	if h := p.w.model.job.Hints.Calibration; show == nil && h != nil && h.Matches(s) {
		show = h // the job brought it along
	}
	text := lang.L("Known once a photograph is traced.")
	switch {
	case show != nil:
		text = strings.TrimSpace(show.Make+" "+show.Model) + ": " + spoken(show.Words()) + "."
	case s.Width > 0:
		text = lang.L("Not measured: the photograph's own focal length is used.")
	}
	if p.words.Text != text {
		p.words.SetText(text)
	}
	if (show != nil) == p.forget.Disabled() {
		enable(p.forget, show != nil)
	}
}

func sameCamera(a, b view.Sighting) bool {
	return a.Make == b.Make && a.Model == b.Model && a.Width == b.Width && a.Height == b.Height && a.Focal35 == b.Focal35
}

// look reads the kept calibrations for a camera.
func (p *cameraPanel) look(camera view.Sighting) {
	p.camera, p.looked = camera, true
	p.known = p.w.services.Cameras.Find(camera)
	if _, err := p.w.services.Cameras.List(); err != nil {
		p.fault(plainly(err))
	}
}

// fault shows what is wrong; nothing takes no room.
func (p *cameraPanel) fault(text string) {
	p.faults.SetText(text)
	if text == "" {
		p.faults.Hide()
	} else {
		p.faults.Show()
	}
}

// again looks anew after the files changed.
func (p *cameraPanel) again() {
	p.looked = false
	p.update()
}

// run measures the camera from the chosen photographs beside the window, and keeps what was found.
func (p *cameraPanel) run() {
	w, paths := p.w, slices.Clone(p.photos)
	ctx, turn := w.busy.begin()
	p.fault("")
	w.services.start(func() {
		c, err := w.services.Calibrator.Calibrate(ctx, paths, func(stage string, done float64) {
			fyne.Do(func() { w.busy.report(turn, stage, done) })
		})
		if err == nil {
			err = ctx.Err()
		}
		if err == nil {
			err = w.services.Cameras.Save(c)
		}
		w.ended(turn, func() { p.measured(c, err) })
	})
}

// measured takes the result of a measurement. The photographs stay chosen when it failed, so that one can be left out.
func (p *cameraPanel) measured(c view.Calibration, err error) {
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			p.fault(plainly(err))
			p.w.say(lang.L("The camera was not measured: the Scale step says why."))
		}
		return
	}
	p.photos = nil
	p.again()
	text := phrase("Camera {{.What}}.", "What", spoken(c.Words()))
	if s := p.w.model.job.Sighting; c.Matches(s) {
		text += " " + lang.L("Trace again to use it.")
	} else if s.Width > 0 {
		text += " " + lang.L("It is not the one that took this photograph.")
	}
	p.w.say(text)
}

// askForget asks before a calibration is lost.
func (p *cameraPanel) askForget() {
	var q *question
	forget := widget.NewButton(lang.L("Forget it"), func() {
		q.close()
		p.drop()
	})
	forget.Importance = widget.DangerImportance
	q = p.w.newQuestion(lang.L("Forget what was measured of this camera?"), paragraph(p.words.Text), forget)
}

// drop forgets the calibration of the photograph's camera, in the files and in the job.
func (p *cameraPanel) drop() {
	hints := &p.w.model.job.Hints
	if p.known != nil {
		if err := p.w.services.Cameras.Remove(*p.known); err != nil {
			p.fault(plainly(err))
			return
		}
	}
	hints.Calibration = nil
	p.again()
	p.w.say(lang.L("The camera is forgotten. Trace again to measure without it."))
}
