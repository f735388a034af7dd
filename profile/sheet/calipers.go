package sheet

import (
	"math"
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
)

// setting is what calipers are set to at a station.
type setting struct {
	size     float64 // mm; 0 = nothing is sized there
	finished float64 // the largest finished diameter that it serves, mm
	group    string  // the letter that cuts of one setting share; empty = it stands alone
	side     float64 // of the mark on which the cut lies: -1 the hook end's, 1 the other, 0 where it makes no difference
}

// settings returns the setting of each station; of several cuts at one, that of the deepest.
func settings(p profile.Pattern, stations []profile.Station, o Options) []setting {
	cuts, all, _ := sizing.Cuts(p, sizing.Options{Allowance: o.Allowance, Group: o.Group})
	out := make([]setting, len(stations))
	for i, st := range stations {
		for _, c := range cuts {
			s := all[c.Setting]
			if serves(c, st) && (out[i].size == 0 || s.Diameter < out[i].size) {
				out[i] = setting{s.Diameter, s.Finished, s.Letter, sideOf(c, st)}
			}
		}
		if downhill(p, st) == 0 {
			out[i].side = 0
		}
	}
	return out
}

// serves reports whether a sizing cut sizes a station: at its mark, or over the whole of a narrow level part that ends
// there.
func serves(c sizing.Cut, st profile.Station) bool {
	if c.Place == sizing.Across {
		return st.Role == profile.Edge && (math.Abs(c.From-st.X) < oneLine || math.Abs(c.To-st.X) < oneLine)
	}
	return math.Abs(c.Mark-st.X) < oneLine
}

// sideOf is the side of a station on which a cut lies.
func sideOf(c sizing.Cut, st profile.Station) float64 {
	if c.Middle() < st.X {
		return -1
	}
	return 1
}

// written is the diameter to size to and the letter; the letter alone when the allowance is negative.
func (s setting) written(allowance float64, write func(mm float64) string) string {
	if s.size == 0 || allowance < 0 {
		return s.group
	}
	return strings.TrimSpace(write(s.size) + " " + s.group)
}
