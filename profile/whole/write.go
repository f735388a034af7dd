package whole

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// newMode is the permission of a file that was not there before; the umask takes from it as usual.
const newMode fs.FileMode = 0o666

// WriteFile calls write with a temporary file beside path, forces it to the disk and renames it to path. When
// anything fails, write itself included, path is as it was before. A symbolic link is followed, and a file that
// is replaced keeps its permissions.
func WriteFile(path string, write func(io.Writer) error) (err error) {
	target := resolve(path)
	mode, err := modeFor(target)
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	f, err := createBeside(target, mode)
	if err != nil {
		return fmt.Errorf("write %s: no file can be made in its folder: %w", path, reason(err))
	}
	defer func() {
		if err != nil {
			_ = f.Close() // it may be closed already
			_ = os.Remove(f.Name())
		}
	}()
	if err := fill(f, write); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	if err := os.Rename(f.Name(), target); err != nil {
		return fmt.Errorf("write %s: put the new file in its place: %w", path, reason(err))
	}
	syncFolder(filepath.Dir(target))
	return nil
}

func fill(f *os.File, write func(io.Writer) error) error {
	b := bufio.NewWriter(f)
	if err := write(b); err != nil {
		return err
	}
	if err := b.Flush(); err != nil {
		return reason(err)
	}
	if err := f.Sync(); err != nil {
		return reason(err)
	}
	return f.Close()
}

// resolve follows symbolic links, so that a link stays a link and what it names is replaced.
func resolve(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	return path
}

func modeFor(path string) (fs.FileMode, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return newMode, nil
	}
	if err != nil {
		return 0, reason(err)
	}
	if !info.Mode().IsRegular() {
		return 0, errors.New("it is not an ordinary file: choose another name")
	}
	return info.Mode().Perm(), nil
}

// createBeside makes a temporary file in the folder of path. os.CreateTemp alone would make it private to the user.
func createBeside(path string, mode fs.FileMode) (*os.File, error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part")
	if err != nil {
		return nil, err
	}
	if mode == newMode {
		mode &^= umask()
	}
	if runtime.GOOS != "windows" {
		if err := f.Chmod(mode); err != nil {
			_ = f.Close()
			_ = os.Remove(f.Name())
			return nil, err
		}
	}
	return f, nil
}

// syncFolder makes the rename itself last through a power cut. Not every file system can; the file is whole either way.
func syncFolder(dir string) {
	d, err := os.Open(dir)
	if err != nil {
		return
	}
	_ = d.Sync()
	_ = d.Close()
}

// reason drops the temporary file's name, which tells a user nothing.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}
