package app

import (
	"time"

	"spindlestick/profile/check"
)

// compared is a copy with its report, and what both were made of. Jobs are values whose slices are never written to, so
// that the same slices hold the same things.
type compared struct {
	original, made check.Piece
	options        check.Options
	report         check.Report
}

// holds reports whether the comparison is of these.
func (k compared) holds(original, made check.Piece, o check.Options) bool {
	a, b := k.options, o
	same := a.Align == b.Align && a.Station == b.Station && a.Tolerance == b.Tolerance && a.Calipers == b.Calipers && sameSlice(a.Exceptions, b.Exceptions)
	return same && samePiece(k.original, original) && samePiece(k.made, made)
}

func samePiece(a, b check.Piece) bool {
	return a.Name == b.Name && a.Gauged == b.Gauged && a.Pattern.Length == b.Pattern.Length && sameSlice(a.Readings, b.Readings) &&
		sameSlice(a.Pattern.Elements, b.Pattern.Elements) && sameSlice(a.Trace.Samples, b.Trace.Samples)
}

func sameSlice[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

// reportsOf compares the copies of a set with the original, those again that have changed.
func (c *copies) reportsOf(s check.Set, original check.Piece) ([]check.Report, error) {
	var now []compared
	var out []check.Report
	for i, made := range s.Copies {
		k := compared{original: original, made: made, options: s.Options}
		if i < len(c.kept) && c.kept[i].holds(original, made, s.Options) {
			k.report = c.kept[i].report
		} else {
			r, err := check.Compare(original, made, s.Options)
			if err != nil {
				return nil, err
			}
			k.report = r
		}
		now, out = append(now, k), append(out, k.report)
	}
	c.kept = now
	return out, nil
}

// settled is how long nothing changes before traced copies are compared anew: each takes some hundredths of a second, and
// a drag changes the pattern with every move.
const settled = 150 * time.Millisecond

// changed compares the copies after a change: at once, or when there are traced ones once the hand rests.
func (c *copies) changed() {
	if c.wait != nil {
		c.wait()
		c.wait = nil
	}
	for _, p := range c.set().Copies {
		if len(p.Trace.Samples) > 0 {
			c.wait = c.window.services.after(settled, c.refresh)
			return
		}
	}
	c.refresh()
}
