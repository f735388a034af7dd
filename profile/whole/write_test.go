package whole_test

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/profile/whole"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestWriteFileReplacesWholly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stick.pdf")
	for _, s := range []string{"first, and rather long", "second"} {
		if err := whole.WriteFile(path, text(s)); err != nil {
			t.Fatal(err)
		}
		if got := read(t, path); got != s {
			t.Errorf("the file holds %q, want %q", got, s)
		}
	}
	if n := names(t, filepath.Dir(path)); len(n) != 1 {
		t.Errorf("left behind: %v", n)
	}
}

func TestWriteFileLeavesTheOldOneWhenWritingFails(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stick.pdf")
	if err := whole.WriteFile(path, text("old")); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("the pen broke")
	err := whole.WriteFile(path, func(w io.Writer) error {
		_, _ = io.WriteString(w, strings.Repeat("new", 1<<16))
		return broken
	})
	if !errors.Is(err, broken) || !strings.Contains(err.Error(), path) {
		t.Errorf("error %v", err)
	}
	if got := read(t, path); got != "old" {
		t.Errorf("the file holds %q", got)
	}
	if n := names(t, filepath.Dir(path)); len(n) != 1 {
		t.Errorf("left behind: %v", n)
	}
}

func TestWriteFileLeavesNothingWhenTheFirstWriteFails(t *testing.T) {
	dir := t.TempDir()
	err := whole.WriteFile(filepath.Join(dir, "a"), func(io.Writer) error { return io.ErrUnexpectedEOF })
	if !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("error %v", err)
	}
	if n := names(t, dir); len(n) != 0 {
		t.Errorf("left behind: %v", n)
	}
}

func TestWriteFileSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	err := whole.WriteFile(filepath.Join(dir, "none", "a"), text("x"))
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing folder: %v", err)
	}
	if err := whole.WriteFile(dir, text("x")); err == nil || !strings.Contains(err.Error(), "not an ordinary file") {
		t.Errorf("a folder as the file: %v", err)
	}
}

func TestWriteFileKeepsPermissionsAndLinks(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "real"), filepath.Join(dir, "link")
	if err := os.WriteFile(path, []byte("old"), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real", link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	if err := whole.WriteFile(link, text("new")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link became %v (%v)", info.Mode(), err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o640 {
		t.Errorf("permissions became %v", info.Mode().Perm())
	}
	if got := read(t, path); got != "new" {
		t.Errorf("the file holds %q", got)
	}
}

// TestNewFileHasTheUsualPermissions compares with what os.Create gives, which the umask governs.
func TestNewFileHasTheUsualPermissions(t *testing.T) {
	dir := t.TempDir()
	f, err := os.Create(filepath.Join(dir, "usual"))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	ours := filepath.Join(dir, "ours")
	if err := whole.WriteFile(ours, text("x")); err != nil {
		t.Fatal(err)
	}
	want, _ := os.Stat(f.Name())
	got, err := os.Stat(ours)
	if err != nil || got.Mode() != want.Mode() {
		t.Errorf("mode %v, os.Create gives %v", got.Mode(), want.Mode())
	}
}
