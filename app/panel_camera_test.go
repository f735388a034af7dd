package app

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app/job"
	"spindlestick/profile/view"
)

// boxCamera is what was measured of a camera.
func boxCamera() view.Calibration {
	return view.Calibration{
		Make: "Maker", Model: "Box", Width: 900, Height: 600, Focal35: 28, F: 640, Cx: 450, Cy: 300, K1: 0.01,
		SigmaF: 1, SigmaCx: 2, SigmaCy: 2, SigmaK1: 0.001, SigmaK2: 0.01, Photos: 6, RMS: 0.12, Date: "2026-11-12",
	}
}

// fakeCalibrator measures boxCamera, or fails.
type fakeCalibrator struct {
	paths  []string
	err    error
	during func()
}

func (f *fakeCalibrator) Calibrate(ctx context.Context, paths []string, progress func(string, float64)) (view.Calibration, error) {
	f.paths = paths
	progress("Looking", 0.5)
	if f.during != nil {
		f.during()
	}
	return boxCamera(), f.err
}

// cameraBench is a traced photograph of the box camera, and the part of the Scale step about it.
func cameraBench(t *testing.T, f *fakeCalibrator) (*Window, *cameraPanel) {
	t.Helper()
	w := bench(t)
	w.services.Cameras = job.Calibrations{Folder: filepath.Join(t.TempDir(), "cameras")}
	w.services.Calibrator = f
	j := railJob()
	j.Sighting = view.Sighting{Make: "Maker", Model: "Box", Width: 900, Height: 600, Focal35: 28}
	p := w.cameraSection()
	w.model.load(j, "", false)
	return w, p
}

// tap presses the button of that text in the dialog on top.
func tap(t *testing.T, w *Window, text string) {
	t.Helper()
	top := w.win.Canvas().Overlays().Top()
	if top == nil {
		t.Fatalf("there is no dialog to press %q in", text)
	}
	for _, o := range test.LaidOutObjects(top) {
		if b, ok := o.(*widget.Button); ok && b.Text == text {
			test.Tap(b)
			return
		}
	}
	t.Fatalf("no button says %q", text)
}

func TestMeasureACamera(t *testing.T) {
	f := &fakeCalibrator{}
	w, p := cameraBench(t, f)
	if !strings.HasPrefix(p.words.Text, "Not measured") || !p.forget.Disabled() || p.measure.Disabled() {
		t.Errorf("before: %q, forget %v, measure %v", p.words.Text, !p.forget.Disabled(), !p.measure.Disabled())
	}
	test.Tap(p.measure)
	p.add("/a/1.jpg", "/a/2.jpg", "/a/1.jpg")
	tap(t, w, "Measure")
	if f.paths != nil || !strings.Contains(w.status.Text, "3 photographs") {
		t.Errorf("measured from two photographs: %v, %q", f.paths, w.status.Text)
	}
	p.add("/a/3.jpg", "/b/1.jpg")
	tap(t, w, "Leave out") // the first
	tap(t, w, "Measure")
	if !slices.Equal(f.paths, []string{"/a/2.jpg", "/a/3.jpg", "/b/1.jpg"}) {
		t.Errorf("measured from %v", f.paths)
	}
	want := "Maker Box: measured 12 November 2026 from 6 photographs, focal length 640 px, residual 0.12 px."
	if p.words.Text != want || p.forget.Disabled() || len(p.photos) != 0 {
		t.Errorf("after: %q", p.words.Text)
	}
	if !strings.Contains(w.status.Text, "Trace again") || w.busy.content.Visible() || w.win.Canvas().Overlays().Top() != nil {
		t.Errorf("the status says %q", w.status.Text)
	}
	if w.services.Cameras.Find(w.model.job.Sighting) == nil {
		t.Error("nothing was kept")
	}
}

func TestForgetACamera(t *testing.T) {
	w, p := cameraBench(t, &fakeCalibrator{})
	kept := boxCamera()
	if err := w.services.Cameras.Save(kept); err != nil {
		t.Fatal(err)
	}
	w.model.job.Hints.Calibration = &kept
	p.again()
	test.Tap(p.forget)
	tap(t, w, "Cancel")
	if w.services.Cameras.Find(w.model.job.Sighting) == nil {
		t.Fatal("forgotten without an answer")
	}
	test.Tap(p.forget)
	tap(t, w, "Forget it")
	if w.services.Cameras.Find(w.model.job.Sighting) != nil || w.model.job.Hints.Calibration != nil {
		t.Error("the camera is still known")
	}
	if !strings.HasPrefix(p.words.Text, "Not measured") || !p.forget.Disabled() {
		t.Errorf("after: %q", p.words.Text)
	}
}

// A failure says all of its reason, and the photographs stay chosen.
func TestACameraThatCannotBeMeasured(t *testing.T) {
	f := &fakeCalibrator{err: errors.New("2.jpg shows 0 boards")}
	w, p := cameraBench(t, f)
	p.add("1.jpg", "2.jpg", "3.jpg")
	p.run()
	if p.faults.Text != f.err.Error() || len(p.photos) != 3 || !strings.HasPrefix(p.words.Text, "Not measured") {
		t.Errorf("%q, %v, %q", p.faults.Text, p.photos, p.words.Text)
	}
	if all, _ := w.services.Cameras.List(); len(all) != 0 {
		t.Error("something was kept")
	}
}

// Stop ends the work: what comes of it after that is not kept.
func TestMeasuringACameraStops(t *testing.T) {
	f := &fakeCalibrator{}
	w, p := cameraBench(t, f)
	f.during = func() { w.busy.stop() }
	p.add("1.jpg", "2.jpg", "3.jpg")
	p.run()
	if all, _ := w.services.Cameras.List(); len(all) != 0 || !strings.HasPrefix(p.words.Text, "Not measured") || w.busy.content.Visible() {
		t.Errorf("kept %d cameras after Stop; %q", len(all), p.words.Text)
	}
}

func TestTheCameraThatAJobBrings(t *testing.T) {
	w, p := cameraBench(t, nil)
	brought := boxCamera()
	j := w.model.job
	j.Hints.Calibration = &brought
	w.model.load(j, "", false)
	if !strings.HasPrefix(p.words.Text, "Maker Box: measured") || p.forget.Disabled() {
		t.Errorf("%q", p.words.Text)
	}
	other := j
	other.Sighting.Model = "Other"
	w.model.load(other, "", false)
	if !strings.HasPrefix(p.words.Text, "Not measured") {
		t.Errorf("another camera's photograph: %q", p.words.Text)
	}
	w.model.load(job.Job{}, "", false)
	if p.words.Text != "Known once a photograph is traced." {
		t.Errorf("no photograph: %q", p.words.Text)
	}
}

func TestAddAFolderOfPhotographs(t *testing.T) {
	w, p := cameraBench(t, &fakeCalibrator{})
	dir := t.TempDir()
	for _, name := range []string{"a.JPG", "b.png", "notes.txt"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p.addFolder(dir)
	if !slices.Equal(p.photos, []string{filepath.Join(dir, "a.JPG"), filepath.Join(dir, "b.png")}) {
		t.Errorf("added %v", p.photos)
	}
	p.addFolder(t.TempDir())
	if !strings.Contains(w.status.Text, "no photographs") || len(p.photos) != 2 {
		t.Errorf("an empty folder: %q", w.status.Text)
	}
	p.addFolder(filepath.Join(dir, "gone"))
	if !strings.HasPrefix(w.status.Text, "Look into") {
		t.Errorf("no folder: %q", w.status.Text)
	}
}

func TestADamagedCameraFileIsNamed(t *testing.T) {
	w, p := cameraBench(t, &fakeCalibrator{})
	if err := os.MkdirAll(w.services.Cameras.Folder, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(w.services.Cameras.Folder, "box.json"), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	p.again()
	if !strings.Contains(p.faults.Text, "box.json") {
		t.Errorf("%q", p.faults.Text)
	}
}

// The Scale step fits its column on the smallest screen, the camera's part included.
func TestTheScaleStepHoldsTheCamera(t *testing.T) {
	w, p := cameraBench(t, &fakeCalibrator{})
	p.words.SetText(strings.Repeat("a long maker's name ", 10))
	w.win.Resize(fyne.NewSize(1280, 690))
	if width := w.panels[stepScale].MinSize().Width; width > 0.37*1280 {
		t.Errorf("the step is %.0f wide", width)
	}
	if p.content.MinSize().Width > 0.37*1280 {
		t.Errorf("the camera's part is %.0f wide", p.content.MinSize().Width)
	}
}
