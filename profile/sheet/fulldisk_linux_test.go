package sheet_test

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"spindlestick/profile/sheet"
)

// TestFullDiskLeavesNothing: on a disk of 16 KiB no export fits; each says so, leaves nothing behind, and a file that
// was there before is as it was.
func TestFullDiskLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=16k"); err != nil {
		t.Skipf("a small disk cannot be mounted here (%v): a full disk is not tried", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Errorf("unmount the small disk: %v", err)
		}
	})
	full := filepath.Join(dir, "full")
	if err := os.WriteFile(full, make([]byte, 4096), 0o600); err != nil {
		t.Fatal(err)
	}
	kept := filepath.Join(dir, "kept.pdf")
	if err := os.WriteFile(kept, []byte("as it was"), 0o600); err != nil {
		t.Fatal(err)
	}
	d := mustMake(t, crowded(), sheet.Options{Show: sheet.All})
	for _, f := range sheet.Formats() {
		path := filepath.Join(dir, "new."+string(f))
		if f == sheet.PDF {
			path = kept
		}
		err := sheet.WriteFile(path, d)
		if len(rendered(t, d, f)) <= 8192 {
			if err != nil {
				t.Errorf("%s finds room, but: %v", f, err)
			}
			if err := os.Remove(path); err != nil {
				t.Error(err)
			}
			continue
		}
		if !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("%s: %v", f, err)
		}
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 2 {
		t.Errorf("left behind: %v (%v)", left, err)
	}
	if got, err := os.ReadFile(kept); err != nil || string(got) != "as it was" {
		t.Errorf("the file that was there is %q (%v)", got, err)
	}
}
