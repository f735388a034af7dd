package app

import (
	"context"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/view"
)

// severalPanel is the part of the photograph's panel about pieces that one photograph does not show whole.
func (w *Window) severalPanel() fyne.CanvasObject {
	overlap := w.line.entry(lang.L("About how much two parts share; empty: found from their shapes."))
	overlap.SetPlaceHolder(lang.L("found"))
	next := w.line.button(lang.L("Join the next part…"), lang.L("Continues this piece with a photograph or job of its next part."), func() { w.chooseFile(pieceEndings(), func(path string) { w.joinNext(path, overlap.Text) }) })
	turned := w.line.button(lang.L("Compare a quarter turn…"), lang.L("Compares this piece with a photograph or job of it after a quarter turn, and takes the mean."), func() { w.chooseFile(pieceEndings(), w.compareTurn) })
	update := func() {
		ready := len(w.model.job.Measurement.Trace.Samples) > 0
		enable(next, ready)
		enable(turned, ready)
	}
	w.model.watch(update)
	update()
	return container.NewVBox(
		widget.NewLabelWithStyle(lang.L("More than one photograph"), fyne.TextAlignLeading, fyne.TextStyle{Bold: true}),
		paragraph(lang.L("A long piece: photograph it in parts that share a bead or a cove, from the hook end on. An old one: turn it by a quarter and see how oval it is.")),
		widget.NewForm(widget.NewFormItem(lang.L("Parts share about"), overlap)),
		container.NewGridWithColumns(2, next, turned),
	)
}

// pieceEndings are the files that hold or show a piece with its trace.
func pieceEndings() []string { return append([]string{job.Extension}, photoEndings()...) }

// joinNext continues the piece on the bench with the part in a file.
func (w *Window) joinNext(path, overlap string) {
	share := 0.0
	if strings.TrimSpace(overlap) != "" {
		mm, err := profile.ParseLength(overlap, w.model.unit)
		if err != nil {
			w.say(plainly(err))
			return
		}
		share = mm
	}
	w.withSecond(path, lang.L("join the next part"), func(first, second job.Job) (job.Job, error) {
		j, _, err := job.Join([]job.Job{first, second}, share)
		return j, err
	})
}

// compareTurn compares the piece on the bench with itself after a quarter turn, in a file.
func (w *Window) compareTurn(path string) {
	w.withSecond(path, lang.L("take the mean of two turns"), func(first, second job.Job) (job.Job, error) {
		j, _, err := job.Turn(first, second)
		return j, err
	})
}

// withSecond makes one job of the one on the bench and another, beside the window, as one step called name.
func (w *Window) withSecond(path, name string, both func(first, second job.Job) (job.Job, error)) {
	ctx, turn := w.busy.begin()
	first, hints := w.model.job, w.model.job.Hints
	hints.Axis, hints.Rule, hints.Corrections = nil, nil, nil // those marks belong to the first photograph
	hints.Length, hints.Known = 0, nil
	w.services.start(func() {
		j, err := w.secondJob(ctx, turn, first, path, hints, both)
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			w.model.replace(name, j)
			w.model.path = "" // neither file is to be written over
			w.retitle()
			w.tracks.fit()
			w.showPicture(false)
			w.say(spoken(j.Note))
		})
	})
}

func (w *Window) secondJob(ctx context.Context, turn int, first job.Job, path string, hints view.Hints, both func(first, second job.Job) (job.Job, error)) (job.Job, error) {
	second, err := w.readPiece(ctx, turn, path, hints)
	if err != nil {
		return job.Job{}, err
	}
	if second.Title == "" || second.Title == first.Title {
		second.Title = filepath.Base(path)
	}
	return both(first, second)
}
