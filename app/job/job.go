package job

import (
	"spindlestick/profile"
	"spindlestick/profile/check"
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
	// Rounding is the step of the sizes that sheets and plans show.
	Rounding profile.Rounding
	// Copies are the copies made of the piece, and how they are judged.
	Copies check.Set
}

// Traced reports whether the job holds a pattern to show and print.
func (j Job) Traced() bool { return len(j.Pattern.Elements) > 0 }

// Piece is the job's piece as a check takes it, under a name.
func (j Job) Piece(name string) check.Piece {
	return check.Piece{Name: name, Pattern: j.Pattern, Trace: j.Measurement.Trace}
}
