package job

import (
	"spindlestick/profile"
	"spindlestick/profile/fit"
)

// Workshop returns the pattern in the job's workshop sizes, as sheets and plans show it, and what that changes. The
// job's own pattern keeps what was measured.
func (j Job) Workshop() (profile.Pattern, []profile.Moved, error) {
	return j.Pattern.Rounded(j.Rounding)
}

// read fills in how sure the elements are, which files carry for other readers only.
func (j *Job) read() { j.Pattern = fit.Read(j.Pattern, j.Measurement.Trace) }
