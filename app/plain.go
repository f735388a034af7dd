package app

import "regexp"

// flags matches the command line's words in a message: " (--rule)", " with --axis".
var flags = regexp.MustCompile(` \(--[a-z0-9 ,-]+\)| with --[a-z0-9]+`)

// plainly takes the command line's words out of a message: in the window, its steps stand in their place. It speaks the
// user's language.
func plainly(err error) string { return spoken(flags.ReplaceAllString(err.Error(), "")) }

// spokenLines are what the packages below say, each in the user's language.
func spokenLines(texts []string) []string {
	var out []string
	for _, s := range texts {
		out = append(out, spoken(s))
	}
	return out
}
