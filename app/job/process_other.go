//go:build !unix

package job

import "os"

// running asks the system for a process; on Windows FindProcess fails for one that is gone.
func running(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	_ = p.Release()
	return true
}
