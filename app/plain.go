package app

import "regexp"

// flags matches the command line's words in a message: " (--rule)", " with --axis".
var flags = regexp.MustCompile(` \(--[a-z0-9 ,-]+\)| with --[a-z0-9]+`)

// plainly takes the command line's words out of a message: in the window, its steps stand in their place.
func plainly(err error) string { return flags.ReplaceAllString(err.Error(), "") }
