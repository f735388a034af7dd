package app

import (
	"errors"
	"testing"
)

func TestTheWindowSpeaksWithoutFlags(t *testing.T) {
	for in, want := range map[string]string{
		"no board was found; give two marks of a rule (--rule), a diameter (--known) or the length (--length)": "no board was found; give two marks of a rule, a diameter or the length",
		"could not tell the piece; give its two ends with --axis, or a plainer ground":                         "could not tell the piece; give its two ends, or a plainer ground",
		"the piece is 40 mm (--ish": "the piece is 40 mm (--ish",
	} {
		if got := plainly(errors.New(in)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
