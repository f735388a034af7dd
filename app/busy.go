package app

import (
	"context"
	"runtime/debug"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
)

// busy shows long work: what is being done, how far it is, and a way to stop it.
type busy struct {
	content fyne.CanvasObject
	bar     *widget.ProgressBar
	label   *widget.Label
	cancel  context.CancelFunc
	changed func() // work began or ended; nil = nobody is told
	turn    int    // counts the works begun, so that a stopped one's last words are not taken for the next one's
}

func newBusy() *busy {
	b := &busy{bar: widget.NewProgressBar(), label: widget.NewLabel("")}
	stop := widget.NewButton(lang.L("Stop"), b.stop)
	b.bar.TextFormatter = func() string { return "" }
	sized := container.NewGridWrap(fyne.NewSize(140, stop.MinSize().Height), b.bar)
	b.content = container.NewHBox(b.label, sized, stop)
	b.content.Hide()
	return b
}

// begin shows the bar and returns the work's context and number.
func (b *busy) begin() (context.Context, int) {
	b.stop()
	b.turn++
	ctx, cancel := context.WithCancel(context.Background())
	b.cancel = cancel
	b.bar.SetValue(0)
	b.label.SetText("")
	b.content.Show()
	b.tell()
	return ctx, b.turn
}

// report is called on the UI goroutine.
func (b *busy) report(turn int, stage string, done float64) {
	if turn != b.turn {
		return
	}
	b.label.SetText(spoken(stage))
	b.bar.SetValue(done)
}

// end hides the bar; false says that another work has begun since, or that this one was stopped.
func (b *busy) end(turn int) bool {
	if turn != b.turn || b.cancel == nil {
		return false
	}
	b.stop()
	go debug.FreeOSMemory() // reading a photograph leaves several times its size behind
	return true
}

func (b *busy) stop() {
	if b.cancel == nil {
		return
	}
	b.cancel()
	b.cancel = nil
	b.content.Hide()
	b.tell()
}

// under reports whether work is under way.
func (b *busy) under() bool { return b.cancel != nil }

func (b *busy) tell() {
	if b.changed != nil {
		b.changed()
	}
}
