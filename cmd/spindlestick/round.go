package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// roundFlag is a step of workshop sizes.
type roundFlag profile.Rounding

func (r *roundFlag) UnmarshalText(text []byte) error {
	step, err := profile.ParseRounding(string(text))
	*r = roundFlag(step)
	return err
}

// workshop returns the pattern in the sizes asked for, or in those the job asks for where flag is nil, what that changes,
// and a line that says so; empty where nothing is rounded.
func workshop(j job.Job, flag *roundFlag) (p profile.Pattern, report []profile.Moved, note string, err error) {
	if flag != nil {
		j.Rounding = profile.Rounding(*flag)
	}
	p, report, err = j.Workshop()
	return p, report, profile.RoundingNote(j.Rounding, report, profile.MM), err
}

// printRounding lists every number that was rounded.
func printRounding(w io.Writer, p profile.Pattern, report []profile.Moved) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "no.\tkind\tnumber\tmeasured\trounded\tchange\tmore than half a step for\t")
	for _, m := range report {
		fmt.Fprintf(t, "%d\t%s\t%s\t%.2f\t%.2f\t%+.2f\t%s\t\n", m.Element+1, p.Word(m.Element), spotWords(m.Spot), m.From, m.To, m.To-m.From, causeWords(m.Cause))
	}
	return t.Flush()
}

func spotWords(s profile.Spot) string {
	switch s {
	case profile.NearEnd:
		return "starts at diameter"
	case profile.FarEnd:
		return "ends at diameter"
	case profile.Middle:
		return "crest or bottom"
	}
	return "starts at station"
}

func causeWords(c profile.Cause) string {
	switch c {
	case profile.ByTie:
		return "what is equal"
	case profile.ByRoom:
		return "room"
	case profile.ByShape:
		return "its arc"
	}
	return ""
}
