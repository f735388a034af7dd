package job

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Keep holds work that is in no file yet, so that a crash loses nothing: one job file a running program, named after its
// process, in a folder of its own.
type Keep struct {
	// Folder is where the files stand; it is made when needed.
	Folder string
	// Alive tells whether a process runs; nil = ask the system.
	Alive func(pid int) bool
}

func (k Keep) path(pid int) string {
	return filepath.Join(k.Folder, "unsaved-"+strconv.Itoa(pid)+Extension)
}

// Store keeps j as this process's unsaved work, in place of what it kept before.
func (k Keep) Store(j Job) error {
	if err := os.MkdirAll(k.Folder, 0o700); err != nil {
		return fmt.Errorf("keep unsaved work: %w", err)
	}
	return Save(k.path(os.Getpid()), j)
}

// Clear forgets this process's unsaved work.
func (k Keep) Clear() error { return k.Forget(k.path(os.Getpid())) }

// Forget removes a file that Left returned.
func (k Keep) Forget(path string) error {
	if err := os.Remove(path); err != nil && !os.IsNotExist(err) {
		return fmt.Errorf("remove kept work: %w", err)
	}
	return nil
}

// Left returns the files of programs that ended without saving, newest first.
func (k Keep) Left() []string {
	entries, err := os.ReadDir(k.Folder)
	if err != nil {
		return nil
	}
	type found struct {
		path string
		when int64
	}
	var all []found
	for _, e := range entries {
		pid, ok := strings.CutPrefix(strings.TrimSuffix(e.Name(), Extension), "unsaved-")
		n, err := strconv.Atoi(pid)
		info, infoErr := e.Info()
		if !ok || err != nil || infoErr != nil || n == os.Getpid() || k.alive(n) {
			continue
		}
		all = append(all, found{filepath.Join(k.Folder, e.Name()), info.ModTime().UnixNano()})
	}
	slices.SortFunc(all, func(a, b found) int { return cmp.Compare(b.when, a.when) })
	var out []string
	for _, f := range all {
		out = append(out, f.path)
	}
	return out
}

func (k Keep) alive(pid int) bool {
	if k.Alive != nil {
		return k.Alive(pid)
	}
	return running(pid)
}
