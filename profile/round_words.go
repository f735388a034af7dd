package profile

import "fmt"

// RoundingNote says in one line what a rounding did, for sheets that show it; empty where nothing was rounded.
func RoundingNote(r Rounding, report []Moved, u Unit) string {
	if r == AsMeasured {
		return ""
	}
	note := fmt.Sprintf("Sizes rounded to %s, overall length as measured; largest change %s.", r.Words(), finely(Largest(report), u))
	more := 0
	for _, m := range report {
		if m.Cause != ByStep {
			more++
		}
	}
	if more > 0 {
		note += fmt.Sprintf(" %d of %d changes are more than half a step: what is tied stays equal, and nothing vanishes.", more, len(report))
	}
	return note
}

// Words writes the step for people: "1/16 in", "0.5 mm".
func (r Rounding) Words() string {
	for _, unit := range []string{"in", "mm"} {
		if n := len(r) - len(unit); n > 0 && string(r)[n:] == unit {
			return string(r)[:n] + " " + unit
		}
	}
	return "as measured"
}

// finely writes a small length with its unit; fractions are too coarse for it.
func finely(mm float64, u Unit) string {
	if u == Fraction {
		u = Inch
	}
	return FormatLength(mm, u) + " " + u.Suffix()
}
