package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/app/job"
	"spindlestick/profile/check"
)

// TestReadingsGoThereAndBack: a form is written, filled in, checked, and written again.
func TestReadingsGoThereAndBack(t *testing.T) {
	dir, original := t.TempDir(), saved(t, 30)
	form := filepath.Join(dir, "form.csv")
	if got := call("check", original, "-o", form); got.code != exitDone {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	text, err := os.ReadFile(form)
	if err != nil || !strings.Contains(string(text), `1,3,106.00,,"bead, crest",30.00,,,,0.50,not yet measured,`) {
		t.Fatalf("%v, the form reads\n%s", err, text)
	}
	filled := strings.ReplaceAll(string(text), `"bead, crest",30.00,,`, `"bead, crest",30.00,31.20,`)
	path := file(t, "filled.csv", []byte(filled))
	out := filepath.Join(dir, "out.csv")
	got := call("check", original, path, "-o", out, "-o", filepath.Join(dir, "out.pdf"), "-o", filepath.Join(dir, "out.json"))
	if got.code != exitDone || !strings.Contains(got.stdout, "take 1.20 off the diameter") {
		t.Fatalf("exit %d: %s\n%s", got.code, got.stderr, got.stdout)
	}
	text, err = os.ReadFile(out)
	if err != nil || !strings.Contains(string(text), `31.20,1.20,0.06,0.50,outside,1.20`) {
		t.Errorf("%v, the result reads\n%s", err, text)
	}
	for _, name := range []string{"out.pdf", "out.json"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestReadingsThatFail(t *testing.T) {
	original := saved(t, 30)
	for name, c := range map[string]struct{ text, says string }{
		"letters":       {"x_mm,copy_mm\n106,thirty\n", "line 2"},
		"below zero":    {"x_mm,copy_mm\n106,-30\n", "not possible"},
		"wrong station": {"x_mm,copy_mm\n50,20\n", "no station"},
		"inches":        {"x_mm,copy_mm\n106,1.18\n", "unit"},
		"commas":        {"x_mm,copy_mm\n106,30,5\n", "write a point"},
		"a picture":     {"\x89PNG\r\n\x1a\n", "no column"},
	} {
		got := call("check", original, file(t, "r.csv", []byte(c.text)))
		if got.code != exitFail || !strings.Contains(got.stderr, c.says) || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
			t.Errorf("%s: exit %d, %q", name, got.code, got.stderr)
		}
	}
}

// TestKeptCopiesAreChecked: without copies named, those of the job, as they are judged there.
func TestKeptCopiesAreChecked(t *testing.T) {
	j, err := job.Open(saved(t, 30))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "kept.turning")
	if err := job.Save(path, j); err != nil {
		t.Fatal(err)
	}
	if got := call("check", path); got.code != exitFail || !strings.Contains(got.stderr, "keeps no copies") {
		t.Errorf("without copies: exit %d, %q", got.code, got.stderr)
	}
	j.Copies = check.Set{Options: check.Options{Tolerance: check.Tolerance{Diameter: 2}}, Copies: []check.Piece{
		{Name: "of ash", Gauged: true, Readings: []check.Reading{{X: 106, D: 31}}}, {Name: "of oak", Gauged: true, Readings: []check.Reading{{X: 106, D: 33}}},
	}}
	if err := job.Save(path, j); err != nil {
		t.Fatal(err)
	}
	got := call("check", path)
	if got.code != exitDone || !strings.Contains(got.stdout, "of ash") || strings.Contains(got.stdout, "take 1.00") || !strings.Contains(got.stdout, "take 3.00 off") {
		t.Errorf("exit %d: %s\n%s", got.code, got.stderr, got.stdout)
	}
	if got := call("check", path, "--diameter", "0.5mm"); !strings.Contains(got.stdout, "take 1.00 off") {
		t.Errorf("a tolerance of 0.5 mm: %s", got.stdout)
	}
}
