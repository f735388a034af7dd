//go:build unix

package job

import (
	"errors"
	"syscall"
)

// running asks the system for a process: signal 0 is checked and not sent (POSIX kill).
func running(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
