package app

import (
	"os"
	"path/filepath"
	"testing"

	"spindlestick/app/job"
	"spindlestick/profile"
)

func TestUnsavedWorkIsKeptAndTakenUpAgain(t *testing.T) {
	w := bench(t)
	w.services.Unsaved = filepath.Join(t.TempDir(), "unsaved")
	w.watchUnsaved()
	if err := w.model.edit("x", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.MoveStation(p, 1, 33) }); err != nil {
		t.Fatal(err)
	}
	w.keepNow()
	entries, err := os.ReadDir(w.services.Unsaved)
	if err != nil || len(entries) != 1 {
		t.Fatalf("kept: %v, %v", entries, err)
	}
	// The program is killed; another finds the file.
	left := filepath.Join(w.services.Unsaved, "unsaved-999999999"+job.Extension)
	if err := os.Rename(filepath.Join(w.services.Unsaved, entries[0].Name()), left); err != nil {
		t.Fatal(err)
	}
	next := bench(t)
	next.services.Unsaved = w.services.Unsaved
	next.watchUnsaved()
	next.offerUnsaved()
	if next.win.Canvas().Overlays().Top() == nil {
		t.Fatal("the kept work is not offered")
	}
	next.recover(left)
	if got := next.model.pattern().Elements[0].X1; got != 33 {
		t.Errorf("the station is at %v, want the edit", got)
	}
	if !next.model.dirty() || next.model.path != "" {
		t.Error("the work taken up passes for saved")
	}
	if _, err := os.Stat(left); !os.IsNotExist(err) {
		t.Error("the file of the ended program is still there")
	}
}

func TestSavingClearsWhatWasKept(t *testing.T) {
	w := bench(t)
	w.services.Unsaved = t.TempDir()
	w.watchUnsaved()
	_ = w.model.edit("x", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.MoveStation(p, 1, 33) })
	w.keepNow()
	w.save()
	w.keepNow()
	if entries, _ := os.ReadDir(w.services.Unsaved); len(entries) != 0 {
		t.Errorf("still kept: %v", entries)
	}
}
