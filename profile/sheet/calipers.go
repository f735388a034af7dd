package sheet

import (
	"math"
	"sort"
	"strings"

	"spindlestick/profile"
)

// setting is what calipers are set to at a station.
type setting struct {
	finished float64 // the largest finished diameter that it serves, mm; 0 = nothing is sized there
	group    string  // the letter that stations of one setting share; empty = it stands alone
}

// settings returns the setting of each station. Sizes are cut from large to small, so the letters run that way.
func settings(p profile.Pattern, stations []profile.Station, within float64) []setting {
	out := make([]setting, len(stations))
	var order []int
	for i, st := range stations {
		if d := sized(p, st); d > 0 {
			out[i].finished = d
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return out[order[a]].finished > out[order[b]].finished })
	letters := 0
	for i := 0; i < len(order) && within >= 0; {
		j := i + 1
		for j < len(order) && out[order[i]].finished-out[order[j]].finished <= within {
			j++
		}
		if j-i > 1 {
			name := settingName(letters)
			letters++
			for _, k := range order[i:j] {
				out[k] = setting{out[order[i]].finished, name}
			}
		}
		i = j
	}
	return out
}

// written is the diameter to size to, an allowance in mm over the finished one, and the letter; the letter alone when
// the allowance is negative.
func (s setting) written(allowance float64, write func(mm float64) string) string {
	if s.finished == 0 || allowance < 0 {
		return s.group
	}
	return strings.TrimSpace(write(s.finished+allowance) + " " + s.group)
}

// settingName is a, b, ... z, aa, bb, ...: capitals name the joins.
func settingName(n int) string {
	name := ""
	for range n/26 + 1 {
		name += string(rune('a' + n%26))
	}
	return name
}

// sized returns the diameter that a parting tool is taken to at a station, mm: the smaller where it steps. Flat faces,
// the bottoms of vees and the turns of ogees are not sized: 0.
func sized(p profile.Pattern, st profile.Station) float64 {
	if st.Role == profile.Inflection || st.Role == profile.Bottom && p.Elements[st.Element].Kind == profile.Vee {
		return 0
	}
	before, after := sides(p, st)
	d := math.Inf(1)
	for _, s := range []aspect{before, after} {
		if s.there && !s.flat {
			d = math.Min(d, s.size)
		}
	}
	if math.IsInf(d, 1) {
		return 0
	}
	return d
}
