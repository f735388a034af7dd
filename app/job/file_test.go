package job_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/view"
)

// rung is a small ladder rung with a photograph that is not one: files do not look inside it.
func rung() job.Job {
	return job.Job{
		Title: "Rung of the loft ladder", Note: "third from the top", PhotoName: "rung.jpg", Photo: []byte("not a photograph"),
		Hints:    view.Hints{Square: 9.98, Height: view.Height{Mode: view.Level}, Axis: &[2]r2.Vec{{X: 1, Y: 2}, {X: 300, Y: 4}}},
		Sighting: view.Sighting{Width: 400, Height: 300, Focal35: 26, Model: "Box"},
		Measurement: view.Measurement{
			Scene: view.Scene{Camera: view.Camera{F: 400, Width: 400, Height: 300}},
			Trace: profile.Trace{Length: 30, Samples: []profile.Sample{{X: 0, R: 5, State: profile.Visible}, {X: 30, R: 5, State: profile.Hidden}}},
			Notes: []string{"the light was poor"},
		},
		Pattern: profile.Pattern{Length: 30, Elements: []profile.Element{{Kind: profile.Cylinder, X0: 0, X1: 30, D0: 10, D1: 10}}},
	}
}

func TestJobFileRoundTrip(t *testing.T) {
	path := filepath.Join(t.TempDir(), "rung.turning")
	if err := job.Save(path, rung()); err != nil {
		t.Fatal(err)
	}
	got, err := job.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(rung(), got, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
}

func TestOpenAPatternAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newel.json")
	var buf bytes.Buffer
	if err := profile.WritePattern(&buf, rung().Pattern); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, buf.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	j, err := job.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if j.Title != "newel" || !j.Traced() || len(j.Photo) > 0 {
		t.Errorf("opened %+v", j)
	}
}

func archive(t testing.TB, entries map[string]string) []byte {
	t.Helper()
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for name, text := range entries {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

func TestReadRefuses(t *testing.T) {
	var whole bytes.Buffer
	if err := job.Write(&whole, rung()); err != nil {
		t.Fatal(err)
	}
	flipped := bytes.Clone(whole.Bytes())
	flipped[bytes.Index(flipped, []byte("not a photograph"))] ^= 1
	head := `{"format":"spindlestick-job","version":1}`
	for name, data := range map[string][]byte{
		"cut":            whole.Bytes()[:whole.Len()/2],
		"a flipped bit":  flipped,
		"no body":        archive(t, map[string]string{"x": "y"}),
		"other body":     archive(t, map[string]string{"job.json": `{"format":"x","version":1}`}),
		"newer":          archive(t, map[string]string{"job.json": `{"format":"spindlestick-job","version":7}`}),
		"no JSON":        archive(t, map[string]string{"job.json": "hello"}),
		"broken pattern": archive(t, map[string]string{"job.json": head, "pattern.json": `{"format":"spindlestick-pattern","version":1,"length":-3}`}),
	} {
		if _, err := job.Read(data); !errors.Is(err, job.ErrFile) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAPhotoNameCannotLeaveItsFolder(t *testing.T) {
	j, err := job.Read(archive(t, map[string]string{"job.json": `{"format":"spindlestick-job","version":1,"photoName":"../../etc/x.jpg"}`}))
	if err != nil || j.PhotoName != "x.jpg" {
		t.Errorf("photo name %q, %v", j.PhotoName, err)
	}
}

func TestSaveKeepsTheOldFileWhenItFails(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "keep.turning")
	if err := job.Save(path, rung()); err != nil {
		t.Fatal(err)
	}
	before, _ := os.ReadFile(path)
	bad := rung()
	bad.Sighting.Focal35 = math.NaN()
	if err := job.Save(path, bad); err == nil {
		t.Fatal("a job that cannot be written was saved")
	}
	after, _ := os.ReadFile(path)
	if !bytes.Equal(before, after) {
		t.Error("the old file was lost")
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("%d files in the folder, want the job alone", len(left))
	}
}

func FuzzRead(f *testing.F) {
	var whole bytes.Buffer
	if err := job.Write(&whole, rung()); err != nil {
		f.Fatal(err)
	}
	f.Add(whole.Bytes())
	f.Add(archive(f, map[string]string{"job.json": `{"format":"spindlestick-job","version":1}`}))
	f.Fuzz(func(_ *testing.T, data []byte) {
		if j, err := job.Read(data); err == nil && j.Traced() {
			j.Pattern.Stations()
		}
	})
}
