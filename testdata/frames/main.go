// Frames measures how smoothly a photograph moves: the window's own way, or with -bare as one picture of the toolkit. It
// prints, once a second, the frames drawn and the longest and the median time between two of them, with the memory in use.
// run.sh beside it moves the mouse and reads the lines.
package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"image"
	"os"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app"
	"spindlestick/vision"
)

func main() {
	bare := flag.Bool("bare", false, "show one picture of the toolkit")
	flag.Parse()
	start := time.Now()
	a := fyneapp.NewWithID("org.spindlestick.frames")
	watch(start)
	if *bare {
		show(a, flag.Arg(0))
		return
	}
	w, err := app.New(a, app.Services{Tracer: told{start: start}})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	w.Run(flag.Arg(0))
}

// told is the program's tracer; it says when the photograph was decoded.
type told struct {
	vision.Tracer
	start time.Time
}

func (t told) Picture(ctx context.Context, data []byte, name string) (image.Image, error) {
	img, err := t.Tracer.Picture(ctx, data, name)
	fmt.Printf("decoded at %d ms\n", time.Since(t.start).Milliseconds())
	return img, err
}

// watch prints the times between the toolkit's frames.
func watch(start time.Time) {
	last, second := time.Time{}, time.Now()
	var gaps []float64
	frames := &fyne.Animation{Duration: time.Second, RepeatCount: fyne.AnimationRepeatForever, Curve: fyne.AnimationLinear}
	n := 0
	frames.Tick = func(float32) {
		now := time.Now()
		if n++; n <= 2 {
			fmt.Printf("frame %d at %d ms\n", n, now.Sub(start).Milliseconds())
		}
		if !last.IsZero() {
			gaps = append(gaps, now.Sub(last).Seconds()*1000)
		}
		last = now
		if now.Sub(second) > time.Second && len(gaps) > 0 {
			slices.Sort(gaps)
			fmt.Printf("t %5.1f s frames %3d median %6.1f ms p95 %6.1f ms longest %6.1f ms %s\n", now.Sub(start).Seconds(), len(gaps), gaps[len(gaps)/2], gaps[len(gaps)*95/100], gaps[len(gaps)-1], memory())
			gaps, second = gaps[:0], now
		}
	}
	frames.Start()
}

// memory is what the process holds, from the kernel.
func memory() string {
	data, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return ""
	}
	var out []string
	for line := range bytes.Lines(data) {
		if f := strings.Fields(string(line)); len(f) > 1 && (f[0] == "VmRSS:" || f[0] == "VmHWM:") {
			out = append(out, f[0]+f[1]+"kB")
		}
	}
	return strings.Join(out, " ")
}

// picture is one canvas.Image that the wheel enlarges and a drag moves.
type picture struct {
	widget.BaseWidget
	img *canvas.Image
	box *fyne.Container
}

func show(a fyne.App, path string) {
	p := &picture{img: canvas.NewImageFromFile(path)}
	p.img.FillMode, p.img.ScaleMode = canvas.ImageFillStretch, canvas.ImageScaleFastest
	p.box = container.NewWithoutLayout(p.img)
	p.ExtendBaseWidget(p)
	w := a.NewWindow("Frames")
	w.SetContent(p)
	w.Resize(fyne.NewSize(1280, 690))
	p.img.Resize(fyne.NewSize(1000, 690))
	w.ShowAndRun()
}

// CreateRenderer is for Fyne.
func (p *picture) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.box) }

// Scrolled is for Fyne.
func (p *picture) Scrolled(e *fyne.ScrollEvent) {
	k := float32(1.15)
	if e.Scrolled.DY < 0 {
		k = 1 / k
	}
	s, at := p.img.Size(), p.img.Position()
	p.img.Resize(fyne.NewSize(s.Width*k, s.Height*k))
	p.img.Move(fyne.NewPos(e.Position.X-(e.Position.X-at.X)*k, e.Position.Y-(e.Position.Y-at.Y)*k))
	p.img.Refresh()
}

// Dragged is for Fyne.
func (p *picture) Dragged(e *fyne.DragEvent) {
	p.img.Move(p.img.Position().Add(e.Dragged))
}

// DragEnd is for Fyne.
func (p *picture) DragEnd() {}
