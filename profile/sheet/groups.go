package sheet

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"spindlestick/profile"
)

// groups lists diameters that lie together, so that calipers are set once for all of them.
func (m *maker) groups(width float64) []block {
	found := m.together()
	if len(found) == 0 {
		return nil
	}
	u := m.options.Units
	title := fmt.Sprintf("Set the calipers once: diameters within %.2f mm", m.options.Group)
	out := []block{
		{sheet: tableSheet, height: 4, head: true, draw: func(Surface, Point) {}},
		{sheet: tableSheet, height: tableLine + 1, head: true, draw: heading(title)},
	}
	for _, g := range found {
		var at []string
		for _, n := range g.stations {
			at = append(at, ordinal(n))
		}
		words := fmt.Sprintf("Ø %s %s  at stations %s", profile.FormatLength(g.mean, u), u.Suffix(), strings.Join(at, ", "))
		out = append(out, paragraph(tableSheet, words, width)...)
	}
	return out
}

type group struct {
	mean     float64
	stations []int
}

// together gathers the stations' diameters, in order of size, into groups that span no more than the option says;
// a diameter that stands alone is none.
func (m *maker) together() []group {
	type entry struct {
		d       float64
		station int
	}
	var all []entry
	for i, st := range stationsOf(m.pattern) {
		for _, d := range diameters(m.pattern, st) {
			all = append(all, entry{d, i})
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].d < all[j].d })
	var out []group
	for i := 0; i < len(all) && m.options.Group > 0; {
		g := group{}
		sum, j := 0.0, i
		for ; j < len(all) && all[j].d-all[i].d <= m.options.Group; j++ {
			sum += all[j].d
			g.stations = append(g.stations, all[j].station)
		}
		g.mean = sum / float64(j-i)
		slices.Sort(g.stations)
		g.stations = slices.Compact(g.stations)
		if len(g.stations) > 1 {
			out = append(out, g)
		}
		i = j
	}
	return out
}

// diameters returns the round diameters at a station, one or two.
func diameters(p profile.Pattern, st profile.Station) []float64 {
	var out []float64
	before, after := measures(p, st, func(mm float64) string { return fmt.Sprint(mm) })
	if before != "" && !strings.HasPrefix(before, flatSign) && st.Before > 0 {
		out = append(out, st.Before)
	}
	if after != "" && after != before && !strings.HasPrefix(after, flatSign) && st.After > 0 {
		out = append(out, st.After)
	}
	return out
}
