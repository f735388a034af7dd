package job

import (
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/check"
)

// Likely is the job of a pattern that several originals were joined into; its note names those that counted.
func Likely(title string, originals []check.Piece, p profile.Pattern) Job {
	var names []string
	for _, o := range originals {
		if !o.Drop {
			names = append(names, o.Name)
		}
	}
	return Job{Title: title, Pattern: p, Note: "Joined from " + strings.Join(names, ", ") + "."}
}
