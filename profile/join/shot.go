package join

import (
	"errors"
	"fmt"

	"spindlestick/profile"
)

// Shot is what one photograph shows of a piece.
type Shot struct {
	Name    string // for messages
	Trace   profile.Trace
	Pattern profile.Pattern // may be empty
	// Cut says of the hook end and the far end of what is shown that the piece goes on there, beyond the picture.
	Cut [2]bool
}

// ErrShots is wrapped by errors about photographs that do not make one piece.
var ErrShots = errors.New("the photographs cannot be joined")

// cutMargin is how much of a trace is passed over beside the picture's edge, mm: the outline is read from a few
// pixels on either side, which end there.
const cutMargin = 4.0

// span is where the shot shows what the piece is, in its own stations.
func (s Shot) span() (lo, hi float64) {
	hi = s.Trace.Length
	if s.Cut[0] {
		lo += cutMargin
	}
	if s.Cut[1] {
		hi -= cutMargin
	}
	return lo, hi
}

func (s Shot) validate() error {
	if len(s.Trace.Samples) == 0 || !(s.Trace.Length > 0) {
		return fmt.Errorf("join: %s: %w: it holds no trace, trace its photograph first", s.Name, ErrShots)
	}
	return nil
}
