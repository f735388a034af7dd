//go:build unix

package job

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

// running asks the system for a process of this program. Where the system tells a process's executable (Linux) that
// decides: a number may have gone to another program, and one that ended may linger until its parent asks after it.
// Elsewhere signal 0 is checked and not sent (POSIX kill).
func running(pid int) bool {
	own, err := executable(os.Getpid())
	if err == nil {
		other, err := executable(pid)
		return err == nil && other == own
	}
	err = syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}

// executable is the file name of a process's program, without what Linux adds once the file has been replaced.
func executable(pid int) (string, error) {
	path, err := os.Readlink("/proc/" + strconv.Itoa(pid) + "/exe")
	return strings.TrimSuffix(filepath.Base(path), " (deleted)"), err
}
