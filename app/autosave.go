package app

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app/job"
)

// keepAfter is how long the hand must rest before unsaved work is kept: long enough not to write during a drag, short
// enough that a crash costs one edit.
const keepAfter = 2 * time.Second

// keeper keeps unsaved work aside while it is in no file.
type keeper struct {
	keep  job.Keep
	stop  func() // the wait under way
	busy  bool
	again bool
}

// watchUnsaved starts keeping. Without a folder (tests, a system that names none) nothing is kept.
func (w *Window) watchUnsaved() {
	if w.services.Unsaved == "" {
		return
	}
	w.keeper = &keeper{keep: job.Keep{Folder: w.services.Unsaved}}
	w.model.watch(func() {
		if w.keeper.stop != nil {
			w.keeper.stop()
		}
		w.keeper.stop = w.services.after(keepAfter, w.keepNow)
	})
}

// keepNow writes the work aside, or clears it when a file holds it. One write runs at a time.
func (w *Window) keepNow() {
	k := w.keeper
	if k.busy {
		k.again = true
		return
	}
	k.busy = true
	dirty, j := w.model.dirty(), w.model.job
	w.services.start(func() {
		var err error
		if dirty {
			err = k.keep.Store(j)
		} else {
			err = k.keep.Clear()
		}
		fyne.Do(func() {
			k.busy = false
			if err != nil {
				w.say(plainly(err))
			}
			if k.again {
				k.again = false
				w.keepNow()
			}
		})
	})
}

// offerUnsaved asks what becomes of work that a crash left.
func (w *Window) offerUnsaved() {
	if w.keeper == nil {
		return
	}
	left := w.keeper.keep.Left()
	if len(left) == 0 {
		return
	}
	path := left[0]
	var q *question
	back := widget.NewButton(lang.L("Take it up again"), func() {
		q.close()
		w.recover(path)
	})
	back.Importance = widget.HighImportance
	drop := widget.NewButton(lang.L("Delete it"), func() {
		q.close()
		if err := w.keeper.keep.Forget(path); err != nil {
			w.say(plainly(err))
		}
	})
	q = w.newQuestion(lang.L("The program ended with work that no file holds."), widget.NewLabel(lang.L("It was kept. Cancel leaves it for next time.")), drop, back)
}

// recover opens kept work as unsaved work.
func (w *Window) recover(path string) {
	ctx, turn := w.busy.begin()
	w.services.start(func() {
		j, err := job.Open(path)
		var shown *pyramid
		if err == nil && len(j.Photo) > 0 {
			shown, err = w.pyramidOf(ctx, j)
		}
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			w.putUp("", j, shown)
			if err := w.keeper.keep.Forget(path); err != nil {
				w.say(plainly(err))
			}
			w.keepNow()
		})
	})
}
