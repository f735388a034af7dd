package job_test

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"

	"spindlestick/app/job"
)

func TestKeepReturnsTheWorkOfAProgramThatEnded(t *testing.T) {
	k := job.Keep{Folder: filepath.Join(t.TempDir(), "unsaved")}
	if left := k.Left(); len(left) != 0 {
		t.Fatalf("left before anything: %v", left)
	}
	if err := k.Store(rung()); err != nil {
		t.Fatal(err)
	}
	if left := k.Left(); len(left) != 0 {
		t.Errorf("a program is offered its own work: %v", left)
	}
	// The same file under the number of a process that has ended.
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	dead := filepath.Join(k.Folder, "unsaved-"+strconv.Itoa(cmd.Process.Pid)+job.Extension)
	if err := job.Save(dead, rung()); err != nil {
		t.Fatal(err)
	}
	left := k.Left()
	if len(left) != 1 || left[0] != dead {
		t.Fatalf("left: %v, want %s", left, dead)
	}
	if j, err := job.Open(left[0]); err != nil || j.Title != rung().Title {
		t.Errorf("opened %q, %v", j.Title, err)
	}
	if err := k.Forget(dead); err != nil || len(k.Left()) != 0 {
		t.Errorf("forgotten work is still there: %v", err)
	}
	if err := k.Clear(); err != nil {
		t.Error(err)
	}
	if err := k.Clear(); err != nil {
		t.Errorf("clearing twice: %v", err)
	}
}

func TestKeepPassesOverOtherFiles(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"unsaved-x.turning", "notes.txt", "unsaved-12.turning"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	k := job.Keep{Folder: dir, Alive: func(int) bool { return true }}
	if left := k.Left(); len(left) != 0 {
		t.Errorf("left: %v", left)
	}
}

// TestAProcessThatLingersIsNotRunning: one that ended and that its parent has not asked after yet still has a number.
func TestAProcessThatLingersIsNotRunning(t *testing.T) {
	dir := t.TempDir()
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = cmd.Wait() }()
	if _, err := io.Copy(io.Discard, out); err != nil { // until it has closed its output: it has ended
		t.Fatal(err)
	}
	path := filepath.Join(dir, "unsaved-"+strconv.Itoa(cmd.Process.Pid)+job.Extension)
	if err := job.Save(path, rung()); err != nil {
		t.Fatal(err)
	}
	left := job.Keep{Folder: dir}.Left()
	for range 200 {
		if len(left) == 1 {
			return
		}
		runtime.Gosched()
		left = job.Keep{Folder: dir}.Left()
	}
	t.Errorf("left: %v, want %s", left, path)
}
