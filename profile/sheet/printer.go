package sheet

import (
	"fmt"
	"math"
	"strings"
)

// barLength is the length of the check bars that a printer is judged by, mm.
const barLength = 100

// Correction returns the scale that undoes a printer's error: what ScaleX or ScaleY is, from what a bar of 100 mm
// measures (mm) on a sheet that was printed without correction.
func Correction(measured float64) (float64, error) {
	scale := barLength / measured
	if !(math.Abs(scale-1) <= maxCompensation) {
		return 0, fmt.Errorf("sheet: a bar of %d mm that measures %v mm is off by more than any printer: print at 100 %%, without fitting to the page, and measure again", barLength, measured)
	}
	return scale, nil
}

// corrected reports whether the sheets undo a printer's error.
func (o Options) corrected() bool { return o.ScaleX != 1 || o.ScaleY != 1 }

// madeFor says which printer the sheets are for and what is undone; empty when they are for any.
func (o Options) madeFor() string {
	name := strings.TrimSpace(printable(o.Printer))
	if !o.corrected() {
		if name == "" {
			return ""
		}
		return fmt.Sprintf("For printer %s, nothing corrected.", name)
	}
	if name == "" {
		name = "the one measured"
	}
	return fmt.Sprintf("For printer %s only: its bars measured %.2f mm along the paper and %.2f mm across; here they should measure 100.",
		name, barLength/o.ScaleX, barLength/o.ScaleY)
}
