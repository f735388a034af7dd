package sheet

import (
	"fmt"
	"sort"
	"strings"

	"spindlestick/profile"
)

// groups lists the settings of the calipers that serve more than one station, from large to small.
func (m *maker) groups(width float64) []block {
	found := m.together()
	if len(found) == 0 {
		return nil
	}
	out := []block{
		{sheet: tableSheet, height: 4, head: true, draw: func(Surface, Point) {}},
		{sheet: tableSheet, height: tableLine + 1, head: true, draw: heading("Set the calipers once")},
	}
	for _, g := range found {
		out = append(out, paragraph(tableSheet, g.words(m.options), width)...)
	}
	return out
}

// group is a setting of the calipers and the stations it serves.
type group struct {
	letter   string
	finished float64 // the largest finished diameter of them, mm
	size     float64 // what they are sized to, mm
	stations []int
}

func (g group) words(o Options) string {
	var at []string
	for _, n := range g.stations {
		at = append(at, ordinal(n))
	}
	u := o.Units
	size := fmt.Sprintf("Ø %s %s", profile.FormatLength(g.finished, u), u.Suffix())
	if o.Allowance >= 0 {
		size += fmt.Sprintf(", sized to %s", profile.FormatLength(g.size, u))
	}
	return fmt.Sprintf("%s: %s at stations %s", g.letter, size, strings.Join(at, ", "))
}

// together gathers the stations by the letter of their setting.
func (m *maker) together() []group {
	byLetter := map[string]int{}
	var out []group
	stations := Numbered(m.pattern)
	set := settings(m.pattern, stations, m.options)
	for i, s := range set {
		if s.group == "" {
			continue
		}
		k, ok := byLetter[s.group]
		if !ok {
			k = len(out)
			byLetter[s.group] = k
			out = append(out, group{letter: s.group, finished: s.finished, size: s.size})
		}
		g := &out[k]
		g.stations = append(g.stations, i)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].size > out[j].size })
	return out
}
