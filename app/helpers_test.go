package app

import (
	"context"
	"errors"
	"image"
	"image/color"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/view"
)

// blindTracer shows a picture and finds nothing in it, as when the piece cannot be told from the ground.
type blindTracer struct{ sights int }

var errBlind = errors.New("no piece was found: mark its two ends")

func (b *blindTracer) Picture(context.Context, []byte, string) (image.Image, error) {
	return image.NewNRGBA(image.Rect(0, 0, 900, 600)), nil
}

func (b *blindTracer) Sight(_ context.Context, _ []byte, _ string, _ view.Hints, progress func(string, float64)) (view.Sighting, error) {
	b.sights++
	progress("Looking", 0.5)
	return view.Sighting{}, errBlind
}

// Snap finds no edge either.
func (b *blindTracer) Snap(image.Image, []r2.Vec, r2.Vec) ([]view.EdgePoint, error) {
	return nil, errBlind
}

// failingTracer shows a picture and fails with err.
type failingTracer struct {
	blindTracer
	err error
}

func (f *failingTracer) Sight(context.Context, []byte, string, view.Hints, func(string, float64)) (view.Sighting, error) {
	return view.Sighting{}, f.err
}

// rail is a short gallery rail spindle.
func rail() profile.Pattern {
	return profile.Pattern{Length: 120, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 30, D0: 14, D1: 14},
		{Kind: profile.Bead, X0: 30, X1: 42, D0: 16, D1: 16, Sagitta: 3},
		{Kind: profile.Taper, X0: 42, X1: 90, D0: 16, D1: 12},
		{Kind: profile.Cylinder, X0: 90, X1: 120, D0: 12, D1: 12},
	}}
}

// railJob is the rail as seen by a camera 600 mm above its middle, 5 px a mm.
func railJob() job.Job {
	return job.Job{
		Title: "Gallery rail", Photo: []byte("pixels"), PhotoName: "rail.png", Pattern: rail(),
		Measurement: view.Measurement{
			Scene: view.Scene{
				Camera: view.Camera{F: 3000, Cx: 449.5, Cy: 299.5, Width: 900, Height: 600},
				Axis:   view.Line{P: r3.Vec{X: -60, Z: 600}, E: r3.Vec{X: 1}},
			},
			Outline: view.Outline{Axis: [2]r2.Vec{{X: 149.5, Y: 299.5}, {X: 749.5, Y: 299.5}}},
		},
	}
}

// bench opens a window on the rail under the test driver.
func bench(t *testing.T) *Window {
	t.Helper()
	w := emptyBench(t, &blindTracer{})
	path := filepath.Join(t.TempDir(), "rail.turning")
	if err := job.Save(path, railJob()); err != nil {
		t.Fatal(err)
	}
	w.open(path)
	if !w.model.traced() {
		t.Fatalf("the job did not open: %s", w.status.Text)
	}
	return w
}

func emptyBench(t *testing.T, tracer Tracer) *Window {
	t.Helper()
	a := test.NewTempApp(t)
	w, err := New(a, Services{Tracer: tracer, Go: func(f func()) { f() }, After: noTime})
	if err != nil {
		t.Fatal(err)
	}
	w.win.Resize(fyne.NewSize(1280, 690))
	return w
}

// hand moves the mouse as a person does: press, small moves, release.
type hand struct{ t *tracks }

func (h hand) at(x, y float64) fyne.PointEvent {
	return fyne.PointEvent{Position: fyne.NewPos(float32(x), float32(y))}
}

func (h hand) press(x, y float64) {
	h.t.MouseMoved(&desktop.MouseEvent{PointEvent: h.at(x, y)})
	h.t.MouseDown(&desktop.MouseEvent{PointEvent: h.at(x, y), Button: desktop.MouseButtonPrimary})
}

func (h hand) move(x0, y0, x1, y1 float64) {
	const moves = 10
	for i := 1; i <= moves; i++ {
		w := float64(i) / moves
		h.t.Dragged(&fyne.DragEvent{PointEvent: h.at(x0+w*(x1-x0), y0+w*(y1-y0)), Dragged: fyne.NewDelta(float32((x1-x0)/moves), float32((y1-y0)/moves))})
	}
}

func (h hand) release(x, y float64) {
	h.t.MouseUp(&desktop.MouseEvent{PointEvent: h.at(x, y), Button: desktop.MouseButtonPrimary})
	h.t.DragEnd()
}

func (h hand) drag(x0, y0, x1, y1 float64) {
	h.press(x0, y0)
	h.move(x0, y0, x1, y1)
	h.release(x1, y1)
}

func (h hand) click(x, y float64) {
	h.press(x, y)
	h.release(x, y)
}

// near reports whether two colours are alike.
func near(a, b color.Color) bool {
	p, q := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	d := func(x, y uint8) int { return max(int(x), int(y)) - min(int(x), int(y)) }
	return d(p.R, q.R)+d(p.G, q.G)+d(p.B, q.B) < 40
}

func mouse(x, y float32) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Button: desktop.MouseButtonPrimary}
}

// noTime is a clock on which nothing ever comes.
func noTime(time.Duration, func()) (stop func()) { return func() {} }
