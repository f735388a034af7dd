package job_test

import (
	"bytes"
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/view"
)

// boxCamera is a calibration as it is kept.
func boxCamera() view.Calibration {
	return view.Calibration{
		Make: "Hollow & Sons", Model: "Box 2/../x", Width: 4000, Height: 3000, Focal35: 26,
		F: 2471.3, Cx: 2010, Cy: 1493, K1: 0.021, K2: -0.011,
		SigmaF: 1.2, SigmaCx: 2.1, SigmaCy: 2.4, SigmaK1: 0.001, SigmaK2: 0.004, Photos: 6, RMS: 0.12, Date: "2026-11-12",
	}
}

// boxSighting is a photograph of that camera held upright.
func boxSighting() view.Sighting {
	return view.Sighting{Make: "Hollow & Sons", Model: "Box 2/../x", Width: 3000, Height: 4000, Focal35: 26, Orientation: 6}
}

func TestCalibrationsRoundTrip(t *testing.T) {
	c := job.Calibrations{Folder: filepath.Join(t.TempDir(), "made", "when needed")}
	if all, err := c.List(); len(all) != 0 || err != nil {
		t.Fatalf("before anything: %v, %v", all, err)
	}
	second := boxCamera()
	second.Focal35 = 52 // the same camera's other lens
	for _, v := range []view.Calibration{boxCamera(), second} {
		if err := c.Save(v); err != nil {
			t.Fatal(err)
		}
	}
	all, err := c.List()
	if err != nil || len(all) != 2 {
		t.Fatalf("%d cameras, %v", len(all), err)
	}
	found := c.Find(boxSighting())
	if found == nil {
		t.Fatal("the camera is not found")
	}
	if d := cmp.Diff(boxCamera(), *found); d != "" {
		t.Error(d)
	}
	newer := boxCamera()
	newer.F = 2480
	if err := c.Save(newer); err != nil {
		t.Fatal(err)
	}
	if all, _ := c.List(); len(all) != 2 || c.Find(boxSighting()).F != 2480 {
		t.Errorf("a camera measured again stands beside its old self: %+v", all)
	}
	if err := c.Remove(newer); err != nil {
		t.Fatal(err)
	}
	if all, _ := c.List(); len(all) != 1 || c.Find(boxSighting()) != nil {
		t.Errorf("after it is forgotten: %+v", all)
	}
	if err := c.Remove(newer); err != nil {
		t.Errorf("forgotten twice: %v", err)
	}
}

func TestFindPassesOverOtherCameras(t *testing.T) {
	c := job.Calibrations{Folder: t.TempDir()}
	if err := c.Save(boxCamera()); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*view.Sighting){
		"maker": func(s *view.Sighting) { s.Make = "Other" }, "model": func(s *view.Sighting) { s.Model = "Box 3" },
		"half the size": func(s *view.Sighting) { s.Width, s.Height = 1500, 2000 }, "zoomed": func(s *view.Sighting) { s.Focal35 = 52 },
		"stripped": func(s *view.Sighting) { s.Make, s.Model, s.Focal35 = "", "", 0 },
	} {
		s := boxSighting()
		change(&s)
		if c.Find(s) != nil {
			t.Errorf("%s: found", name)
		}
	}
	if (job.Calibrations{}).Find(boxSighting()) != nil {
		t.Error("found without a folder")
	}
}

// Names of cameras come from files of strangers: none leaves the folder, and none takes another's place.
func TestCalibrationNamesAreSafe(t *testing.T) {
	root := t.TempDir()
	c := job.Calibrations{Folder: filepath.Join(root, "cameras")}
	models := []string{"../../etc/passwd", "..", ".", "CON", "a/b", "a\\b", "a b", strings.Repeat("long ", 400), "\x00", "カメラ", "キカイ", "x\n"}
	for _, m := range models {
		v := boxCamera()
		v.Make, v.Model = "", m
		if err := c.Save(v); err != nil {
			t.Errorf("%q: %v", m, err)
		}
	}
	if all, err := c.List(); len(all) != len(models) || err != nil {
		t.Errorf("%d cameras for %d models, %v", len(all), len(models), err)
	}
	if left, _ := os.ReadDir(root); len(left) != 1 {
		t.Errorf("files beside the folder: %v", left)
	}
}

func TestSaveRefusesACameraThatCannotBe(t *testing.T) {
	c := job.Calibrations{Folder: t.TempDir()}
	bad := boxCamera()
	bad.F = math.NaN()
	if err := c.Save(bad); !errors.Is(err, view.ErrCalibration) {
		t.Errorf("not finite: %v", err)
	}
	if err := (job.Calibrations{}).Save(boxCamera()); err == nil {
		t.Error("saved nowhere")
	}
	blocked := filepath.Join(c.Folder, "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := (job.Calibrations{Folder: blocked}).Save(boxCamera()); err == nil {
		t.Error("saved under a file")
	}
	if _, err := (job.Calibrations{Folder: blocked}).List(); err == nil {
		t.Error("a file was listed as a folder")
	}
}

// hostile are files that must be refused.
func hostile() map[string]string {
	return map[string]string{
		"empty": "", "no JSON": "hello", "other": `{"format":"x","version":1}`,
		"newer":  `{"format":"spindlestick-camera","version":2}`,
		"nobody": `{"format":"spindlestick-camera","version":1}`,
		"text":   `{"format":"spindlestick-camera","version":1,"camera":{"model":"x","width":"wide"}}`,
		"huge":   `{"format":"spindlestick-camera","version":1,"camera":{"model":"x","width":4000,"height":3000,"f":1e300,"photos":3}}`,
		"long":   `{"format":"` + strings.Repeat("x", 70<<10) + `"}`,
	}
}

func TestListPassesOverHostileFiles(t *testing.T) {
	c := job.Calibrations{Folder: t.TempDir()}
	if err := c.Save(boxCamera()); err != nil {
		t.Fatal(err)
	}
	for name, text := range hostile() {
		if _, err := job.ReadCalibration(strings.NewReader(text)); !errors.Is(err, job.ErrCalibrationFile) {
			t.Errorf("%s: %v", name, err)
		}
		if err := os.WriteFile(filepath.Join(c.Folder, name+".json"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(c.Folder, "folder.json"), 0o700); err != nil {
		t.Fatal(err)
	}
	all, err := c.List()
	if len(all) != 1 || !errors.Is(err, job.ErrCalibrationFile) {
		t.Fatalf("%d cameras, %v", len(all), err)
	}
	for name := range hostile() {
		if !strings.Contains(err.Error(), name+".json") {
			t.Errorf("nothing is said of %s.json", name)
		}
	}
	if c.Find(boxSighting()) == nil {
		t.Error("a good file is lost among bad ones")
	}
	if err := c.Remove(boxCamera()); err != nil {
		t.Error(err)
	}
	if left, _ := os.ReadDir(c.Folder); len(left) != len(hostile())+1 {
		t.Errorf("%d files are left: others were removed", len(left))
	}
}

func FuzzReadCalibration(f *testing.F) {
	c := job.Calibrations{Folder: f.TempDir()}
	if err := c.Save(boxCamera()); err != nil {
		f.Fatal(err)
	}
	names, _ := filepath.Glob(filepath.Join(c.Folder, "*.json"))
	good, err := os.ReadFile(names[0])
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	for _, text := range hostile() {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		v, err := job.ReadCalibration(bytes.NewReader(data))
		if err == nil && v.Check() != nil {
			t.Errorf("read %+v, which is refused elsewhere", v)
		}
	})
}

// plainSight sees a plain round stick, taken by the box camera, a metre off.
type plainSight struct{}

func (plainSight) Sight(context.Context, []byte, string, view.Hints, func(string, float64)) (view.Sighting, error) {
	s := boxSighting()
	const x, top, bottom, half = 1500, 1200, 2800, 50
	s.Outline.Axis = [2]r2.Vec{{X: x, Y: top}, {X: x, Y: bottom}}
	for side, dir := range []float64{1, -1} { // looking down the picture, its right lies on the left
		for y := top; y <= bottom; y++ {
			s.Outline.Sides[side] = append(s.Outline.Sides[side], view.EdgePoint{
				P: r2.Vec{X: x + half*dir, Y: float64(y)}, N: r2.Vec{X: dir}, Sigma: 0.1, State: profile.Visible,
			})
		}
		for k := -half; k <= half; k++ {
			s.Outline.Ends[side] = append(s.Outline.Ends[side], view.EdgePoint{
				P: r2.Vec{X: x - float64(k), Y: s.Outline.Axis[side].Y}, N: r2.Vec{Y: -dir}, Sigma: 0.1, State: profile.Visible,
			})
		}
	}
	return s, nil
}

// A trace measures with the kept calibration of the photograph's camera; without one, with what its hints hold.
func TestTraceUsesTheKeptCalibration(t *testing.T) {
	c := job.Calibrations{Folder: t.TempDir()}
	if err := c.Save(boxCamera()); err != nil {
		t.Fatal(err)
	}
	old := boxCamera()
	old.F = 2600
	for _, k := range []struct {
		cameras job.Calibrations
		want    float64
	}{{c, boxCamera().F}, {job.Calibrations{}, old.F}} {
		j, err := job.Trace(context.Background(), plainSight{}, k.cameras, []byte("x"), "x.jpg", view.Hints{Calibration: &old, Length: 640}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := j.Measurement.Scene.Camera.F; math.Abs(got-k.want) > 0.001*k.want {
			t.Errorf("measured at %.1f px, want %.1f", got, k.want)
		}
		if notes := strings.Join(j.Measurement.Notes, "\n"); !strings.Contains(notes, "12 November 2026 from 6 photographs") {
			t.Errorf("notes: %s", notes)
		}
		var file bytes.Buffer
		if err := job.Write(&file, j); err != nil {
			t.Fatal(err)
		}
		back, err := job.Read(file.Bytes())
		if err != nil || back.Hints.Calibration == nil || *back.Hints.Calibration != *j.Hints.Calibration {
			t.Errorf("from its file: %+v, %v", back.Hints.Calibration, err)
		}
	}
}
