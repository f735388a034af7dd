package app

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/app/job"
)

// TestOriginalsAreJoined: a worn one and a sound one with the piece on the bench.
func TestOriginalsAreJoined(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(2)
	w.originals.add(copyFile(t)) // its bead is 1 mm too thin
	same := filepath.Join(t.TempDir(), "third.turning")
	if err := job.Save(same, job.Job{Title: "third", Pattern: rail()}); err != nil {
		t.Fatal(err)
	}
	w.originals.add(same)
	if !strings.Contains(w.originals.found.Text, "second.turning: worn") {
		t.Errorf("found: %q", w.originals.found.Text)
	}
	if _, d, ok := w.originals.pattern.Elements[1].Mid(); !ok || math.Abs(d-22) > 0.01 {
		t.Errorf("the likely crest is %.2f mm", d)
	}
	dir := t.TempDir()
	w.originals.writeSpread()
	asked(t, w, filepath.Join(dir, "s.pdf"))
	if _, err := os.Stat(filepath.Join(dir, "s.pdf")); err != nil {
		t.Error(err)
	}
	w.originals.take()
	if !w.model.traced() || !w.model.dirty() || !strings.Contains(w.model.job.Note, "second.turning") {
		t.Errorf("on the bench: %q, %q", w.model.job.Title, w.model.job.Note)
	}
	if len(w.originals.more) != 0 {
		t.Error("the originals of the other job are still there")
	}
}

// TestAnOriginalIsWeighedAndDropped by its field.
func TestAnOriginalIsWeighedAndDropped(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.originals.add(copyFile(t))
	crest := func() float64 {
		_, d, _ := w.originals.pattern.Elements[1].Mid()
		return d
	}
	if d := crest(); math.Abs(d-21.5) > 0.01 {
		t.Errorf("of two: %.2f", d)
	}
	w.originals.more[0].Weight = 20
	w.originals.refresh()
	if d := crest(); d > 21.1 {
		t.Errorf("with a weight of 20: %.2f", d)
	}
	w.originals.more[0].Drop = true
	w.originals.refresh()
	if !strings.Contains(w.originals.found.Text, "two or more") || !w.originals.actions[0].Disabled() {
		t.Errorf("one left: %q", w.originals.found.Text)
	}
}
