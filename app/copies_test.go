package app

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// copyFile writes a copy of the rail whose bead is 1 mm too small and whose last cylinder is right.
func copyFile(t *testing.T) string {
	t.Helper()
	p, err := profile.SetMid(rail(), 1, 21)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "second.turning")
	if err := job.Save(path, job.Job{Title: "second", Pattern: p}); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestACopyIsComparedStationByStation(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.compare(copyFile(t))
	var outside []string
	for _, r := range w.copies.rows() {
		if r.Differs() {
			outside = append(outside, r.What)
		}
	}
	if len(outside) != 1 || !strings.Contains(outside[0], "crest") {
		t.Errorf("stations that differ: %v, want the bead's crest alone (%s)", outside, w.status.Text)
	}
	for _, r := range w.copies.rows() {
		if n := len(checkCells(r, profile.Fraction)); n != len(checkColumns()) {
			t.Fatalf("%d cells of %d columns", n, len(checkColumns()))
		}
	}
	if w.copies.actions[0].Disabled() || !strings.Contains(w.status.Text, "second.turning") || !strings.Contains(w.copies.standing(0), "outside") {
		t.Errorf("after a comparison the list says %q and the status %q", w.copies.standing(0), w.status.Text)
	}
}

func TestABadCopyIsSaidAndChangesNothing(t *testing.T) {
	w := bench(t)
	path := filepath.Join(t.TempDir(), "bad.turning")
	if err := os.WriteFile(path, []byte("PK\x03\x04"), 0o644); err != nil {
		t.Fatal(err)
	}
	w.copies.compare(path)
	if len(w.model.job.Copies.Copies) != 0 || w.status.Text == "" {
		t.Errorf("%d reports, status %q", len(w.copies.reports), w.status.Text)
	}
}

func TestThePlanIsWrittenFromTheWindow(t *testing.T) {
	w := bench(t)
	w.app.Preferences().SetString("folder", t.TempDir())
	w.showStep(stepCopies)
	w.planner.count.SetText("none")
	w.planner.ask()
	if !strings.Contains(w.status.Text, "whole number") {
		t.Errorf("a wrong count: %q", w.status.Text)
	}
	w.planner.count.SetText("12")
	w.planner.ask()
	ok := w.win.Canvas().Overlays().Top()
	if ok == nil {
		t.Fatal("no file is asked for")
	}
	field := w.win.Canvas().Focused()
	if field == nil {
		t.Fatal("the question's field has not the keyboard")
	}
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	data, err := os.ReadFile(filepath.Join(w.folder(), "Gallery rail plan.pdf"))
	if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Errorf("no plan was written: %v, %s", err, w.status.Text)
	}
}
