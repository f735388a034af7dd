package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// folderOf copies test photographs into a folder under new names.
func folderOf(t *testing.T, names map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, from := range names {
		data, err := os.ReadFile(photos + from)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestAFolderIsTraced: every photograph of a folder, bad ones among them, with all outputs into one new folder.
func TestAFolderIsTraced(t *testing.T) {
	dir := folderOf(t, map[string]string{"b.jpg": "leg.jpg", "a.JPG": "noboard.jpg", "c.jpg": "noboard.jpg"})
	if err := os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("three legs"), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "new", "out")
	got := call("trace", dir, "--height", "level", "--csv", out, "--trace", out, "--pattern", out, "--job", out)
	if got.code != exitFail || !strings.Contains(got.stderr, "2 of 3") || !strings.Contains(got.stderr, "a.JPG: nothing in the photo") {
		t.Errorf("exit %d: %s", got.code, got.stderr)
	}
	if !strings.Contains(got.stdout, "3 photographs: 1 traced, 2 failed") {
		t.Errorf("the summary is missing:\n%s", got.stdout)
	}
	if strings.Index(got.stdout, "b.jpg\n") > strings.Index(got.stdout, "c.jpg\n") {
		t.Error("the tables do not stand in the photographs' order")
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if want := "b.csv b.json b.trace.csv b.turning"; strings.Join(names, " ") != want {
		t.Errorf("written: %v, want %s", names, want)
	}
}

func TestSeveralPhotosAreRefusedBeforeWork(t *testing.T) {
	a, b := folderOf(t, map[string]string{"leg.jpg": "leg.jpg"}), folderOf(t, map[string]string{"LEG.png": "leg.jpg"})
	full := file(t, "taken", []byte("a file"))
	for name, c := range map[string]struct {
		args []string
		says string
	}{
		"two of one name":      {[]string{a, b, "--csv", t.TempDir()}, "would both be written"},
		"a file for a folder":  {[]string{a, photos + "rule.jpg", "--csv", full}, "are folders"},
		"nothing in it":        {[]string{t.TempDir()}, "no photographs"},
		"nothing in one of it": {[]string{a, t.TempDir()}, "no photographs"},
	} {
		got := call(append([]string{"trace"}, c.args...)...)
		if got.code != exitFail || !strings.Contains(got.stderr, c.says) || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
			t.Errorf("%s: exit %d, %q", name, got.code, got.stderr)
		}
	}
}

func TestStoppedBatchSaysSo(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var out, errs strings.Builder
	code := run(environment{ctx, &out, &errs}, []string{"trace", photos + "leg.jpg", photos + "rule.jpg"})
	if code != exitFail || !strings.Contains(errs.String(), "stopped") {
		t.Errorf("exit %d: %s", code, errs.String())
	}
}

// TestGateHoldsItsBudget: whatever the sizes, no more seats and units are out than there are, and all get through.
func TestGateHoldsItsBudget(t *testing.T) {
	const seats, units = 3, 10
	g := newGate(seats, units)
	var in, used, through atomic.Int64
	var wait sync.WaitGroup
	for i := range 200 {
		n := i % (units + 1)
		g.enter(n)
		if in.Add(1) > seats || used.Add(int64(n)) > units {
			t.Errorf("%d at once with %d units", in.Load(), used.Load())
		}
		wait.Go(func() {
			in.Add(-1)
			used.Add(-int64(n))
			through.Add(1)
			g.leave(n)
		})
	}
	wait.Wait()
	if through.Load() != 200 {
		t.Errorf("%d of 200 got through", through.Load())
	}
}

func TestPixelsByTheHead(t *testing.T) {
	for name, c := range map[string]struct {
		path string
		want int
	}{
		"a photograph": {photos + "leg.jpg", 1600 * 1200},
		"text":         {file(t, "a.jpg", []byte("no picture")), pixelBudget},
		"a huge claim": {file(t, "a.png", pngClaiming(100000, 100000)), pixelBudget},
		"none":         {"nowhere.jpg", 0},
	} {
		if got := pixels(c.path); got != c.want {
			t.Errorf("%s: %d pixels, want %d", name, got, c.want)
		}
	}
}
