package app

import (
	"context"
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/view"
)

// snapTracer sees the rail's outline, and puts lines drawn by hand where they were drawn.
type snapTracer struct {
	blindTracer
	lines int
}

func (s *snapTracer) Snap(_ image.Image, line []r2.Vec, inside r2.Vec) ([]view.EdgePoint, error) {
	s.lines++
	var out []view.EdgePoint
	for i := 1; i < len(line); i++ {
		for k := range 8 {
			p := r2.Add(line[i-1], r2.Scale(float64(k)/8, r2.Sub(line[i], line[i-1])))
			out = append(out, view.EdgePoint{P: p, N: r2.Vec{Y: -1}, Sigma: 0.1, State: profile.Visible})
		}
	}
	return out, nil
}

func (s *snapTracer) Sight(context.Context, []byte, string, view.Hints, func(string, float64)) (view.Sighting, error) {
	return view.Sighting{}, errBlind
}

// seenRail is the rail's job with what was seen of it: both edges, and a length for a scale.
func seenRail(t *testing.T) job.Job {
	t.Helper()
	j := railJob()
	p, err := view.NewProjector(j.Measurement.Scene)
	if err != nil {
		t.Fatal(err)
	}
	look := p.Look(j.Pattern)
	o := j.Measurement.Outline
	for side := range o.Sides {
		sign := float64(2*side - 1)
		lo, hi := look.Reach()
		for i := range 900 {
			u := lo + (hi-lo)*float64(i)/899
			if v, ok := look.Width(u, side); ok {
				o.Sides[side] = append(o.Sides[side], view.EdgePoint{P: p.ToPixel(u, sign*v), N: r2.Vec{Y: sign}, Sigma: 0.1, State: profile.Visible})
			}
		}
	}
	j.Hints.Length, j.Hints.Focal35 = 120, 120
	j.Sighting = view.Sighting{Width: 900, Height: 600, Outline: o}
	j.Measurement.Outline = o
	return j
}

// drawOver draws a stroke over the photograph as a hand does.
func drawOver(p *picture, path ...r2.Vec) {
	at := func(v r2.Vec) fyne.PointEvent {
		q := p.place(v)
		return fyne.PointEvent{Position: fyne.NewPos(float32(q.x), float32(q.y))}
	}
	p.MouseDown(&desktop.MouseEvent{PointEvent: at(path[0]), Button: desktop.MouseButtonPrimary})
	for i := 1; i < len(path); i++ {
		for k := range 10 {
			v := r2.Add(path[i-1], r2.Scale(float64(k+1)/10, r2.Sub(path[i], path[i-1])))
			p.Dragged(&fyne.DragEvent{PointEvent: at(v), Dragged: fyne.NewDelta(1, 1)})
		}
	}
	p.MouseUp(&desktop.MouseEvent{PointEvent: at(path[len(path)-1]), Button: desktop.MouseButtonPrimary})
	p.DragEnd()
}

func mendBench(t *testing.T) (*Window, *snapTracer) {
	t.Helper()
	tracer := &snapTracer{}
	w := emptyBench(t, tracer)
	w.putUp("", seenRail(t), newPyramid(image.NewNRGBA(image.Rect(0, 0, 900, 600))))
	w.showStep(stepOutline)
	return w, tracer
}

func TestStrokesPutTheOutlineRight(t *testing.T) {
	along := []r2.Vec{{X: 420, Y: 262}, {X: 500, Y: 262}} // over the taper's upper edge
	for i, kind := range []view.CorrectionKind{view.Ignore, view.Redraw, view.TrustSide} {
		w, tracer := mendBench(t)
		w.mender.choose(i)
		before := w.picture.centre
		drawOver(w.picture, along...)
		cs := w.model.job.Hints.Corrections
		if len(cs) != 1 || cs[0].Kind != kind {
			t.Fatalf("%s: corrections %+v, status %q", kind, cs, w.status.Text)
		}
		if w.picture.centre != before {
			t.Errorf("%s: the photograph moved under the stroke", kind)
		}
		if kind == view.Redraw && (tracer.lines != 1 || cs[0].Side != 0) {
			t.Errorf("the line was laid onto the edge %d times, on side %d", tracer.lines, cs[0].Side)
		}
		if kind != view.Redraw && !passesOver(w.picture.edge) {
			t.Errorf("%s: nothing is shown as passed over", kind)
		}
		if w.model.history.UndoName() == "" {
			t.Errorf("%s cannot be undone", kind)
		}
		w.model.undo()
		if len(w.model.job.Hints.Corrections) != 0 || passesOver(w.picture.edge) {
			t.Errorf("%s: undo leaves the correction", kind)
		}
		w.model.redo()
		if len(w.model.job.Hints.Corrections) != 1 {
			t.Errorf("%s: redo does not make it again", kind)
		}
		w.mender.keep(0)
		if len(w.model.job.Hints.Corrections) != 0 {
			t.Errorf("%s: it is not taken back", kind)
		}
	}
}

// A hand is quicker than a fit: a second stroke adds to the first.
func TestStrokesWhileMeasuringAddUp(t *testing.T) {
	w, _ := mendBench(t)
	var work []func()
	w.services.Go = func(f func()) { work = append(work, f) }
	w.mender.choose(0)
	drawOver(w.picture, r2.Vec{X: 420, Y: 262}, r2.Vec{X: 500, Y: 262})
	drawOver(w.picture, r2.Vec{X: 420, Y: 337}, r2.Vec{X: 500, Y: 337})
	for _, f := range work {
		f()
	}
	if n := len(w.model.job.Hints.Corrections); n != 2 || w.mender.waiting {
		t.Errorf("%d of 2 strokes count", n)
	}
}

func passesOver(o view.Outline) bool {
	for _, side := range o.Sides {
		for _, e := range side {
			if e.State == profile.Inferred {
				return true
			}
		}
	}
	return false
}

func TestToolIsPutAway(t *testing.T) {
	w, _ := mendBench(t)
	w.mender.choose(0)
	drawOver(w.picture, r2.Vec{X: 420, Y: 262}, r2.Vec{X: 421, Y: 262}) // a slip
	if len(w.model.job.Hints.Corrections) != 0 {
		t.Error("a slip of a pixel made a correction")
	}
	w.mender.choose(0)
	before := w.picture.centre
	drawOver(w.picture, r2.Vec{X: 420, Y: 262}, r2.Vec{X: 500, Y: 262})
	if w.picture.centre == before || len(w.model.job.Hints.Corrections) != 0 {
		t.Error("without a tool a drag does not move the photograph")
	}
	w.mender.choose(1)
	w.showStep(stepPattern)
	if w.picture.strokes != nil {
		t.Error("another step leaves the tool in the hand")
	}
	if w.picture.Visible() || !w.tracks.Visible() {
		t.Error("another step leaves the whole photograph up")
	}
}

func TestFailedEdgeChangesNothing(t *testing.T) {
	w := emptyBench(t, &blindTracer{})
	w.putUp("", seenRail(t), newPyramid(image.NewNRGBA(image.Rect(0, 0, 900, 600))))
	w.mender.choose(1)
	drawOver(w.picture, r2.Vec{X: 420, Y: 262}, r2.Vec{X: 500, Y: 262})
	if len(w.model.job.Hints.Corrections) != 0 || w.status.Text == "" {
		t.Errorf("corrections %+v, status %q", w.model.job.Hints.Corrections, w.status.Text)
	}
}

func TestSquareIsMarkedAsItLies(t *testing.T) {
	w, _ := mendBench(t)
	along := []r2.Vec{{X: 640, Y: 299}, {X: 740, Y: 299}} // the cylinder at the far end
	for i, want := range []float64{0, math.Pi / 4, math.Pi / 12} {
		w.mender.lies.SetSelectedIndex(i)
		w.mender.degrees.SetText("15°")
		w.mender.choose(3)
		drawOver(w.picture, along...)
		w.mender.choose(3)
		cs := w.model.job.Hints.Corrections
		if len(cs) != i+1 || cs[i].Kind != view.MarkSquare || math.Abs(cs[i].Turn-want) > 1e-9 {
			t.Fatalf("corrections %+v, status %q", cs, w.status.Text)
		}
	}
	w.mender.degrees.SetText("askew")
	w.mender.choose(3)
	drawOver(w.picture, along...)
	if n := len(w.model.job.Hints.Corrections); n != 3 {
		t.Errorf("a turn that is no number made %d corrections", n)
	}
}
