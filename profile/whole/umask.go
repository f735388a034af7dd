package whole

import (
	"io/fs"
	"os"
	"strconv"
	"strings"
)

// usualUmask is what a system sets when nobody chose another.
const usualUmask fs.FileMode = 0o022

// umask reads the process's file mode mask. Linux tells it in /proc; elsewhere the only way is to set it and set it
// back, which another thread could see, so there the usual one is taken.
func umask() fs.FileMode {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return usualUmask
	}
	for line := range strings.Lines(string(status)) {
		if v, ok := strings.CutPrefix(line, "Umask:"); ok {
			if m, err := strconv.ParseUint(strings.TrimSpace(v), 8, 32); err == nil {
				return fs.FileMode(m)
			}
		}
	}
	return usualUmask
}
