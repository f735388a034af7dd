package job

import (
	"spindlestick/profile"
	"spindlestick/profile/view"
)

// Job is one piece of work: all that is kept in a file. A pattern may stand without a photograph.
type Job struct {
	Title     string
	Note      string // the user's own words
	PhotoName string // file name of the photograph, without folders
	Photo     []byte // the photograph as it was opened; empty = none
	Hints     view.Hints
	Sighting  view.Sighting
	// Measurement is what the photograph gave; its trace is the measured profile.
	Measurement view.Measurement
	// Pattern is the pattern as corrected by the user.
	Pattern profile.Pattern
}

// Traced reports whether the job holds a pattern to show and print.
func (j Job) Traced() bool { return len(j.Pattern.Elements) > 0 }
