package sheet_test

import (
	"math"
	"sort"

	"spindlestick/profile/sheet"
)

// strip is one strip of a stick as found on a page: the height of its working edge, the heavy ticks on it, and where
// it is to be cut or joined.
type strip struct {
	page, edge float64
	ticks      []float64
	joins      []float64
	hook       float64 // NaN where there is none
}

// stripsOf finds the strips of a story stick from what is drawn: the ticks of stations start at the working edge.
func stripsOf(d sheet.Document) []strip {
	found := map[[2]float64]*strip{}
	var order []*strip
	for n, page := range d.Pages {
		at := func(y float64) *strip {
			key := [2]float64{float64(n), math.Round(y * 1e6)}
			if found[key] == nil {
				found[key] = &strip{page: float64(n), edge: y, hook: math.NaN()}
				order = append(order, found[key])
			}
			return found[key]
		}
		for _, m := range page.Marks {
			if l, ok := m.(sheet.Line); ok && l.Pen.Layer == sheet.Stations && l.Pen.Width == 0.35 {
				s := at(l.Pts[0].Y)
				s.ticks = append(s.ticks, l.Pts[0].X)
			}
		}
		for _, m := range page.Marks {
			for _, s := range order {
				if s.page == float64(n) {
					s.addMark(m)
				}
			}
		}
	}
	return sorted(order)
}

func sorted(order []*strip) []strip {
	var out []strip
	for _, s := range order {
		sort.Float64s(s.ticks)
		sort.Float64s(s.joins)
		out = append(out, *s)
	}
	sort.Slice(out, func(i, j int) bool {
		return out[i].page < out[j].page || out[i].page == out[j].page && out[i].edge < out[j].edge
	})
	return out
}

// addMark notes a join's line that crosses the strip's edge, and the lip, whose right side is the hook end.
func (s *strip) addMark(m sheet.Mark) {
	crosses := func(y0, y1 float64) bool { return math.Min(y0, y1) < s.edge && s.edge < math.Max(y0, y1) }
	switch m := m.(type) {
	case sheet.Line:
		if len(m.Pen.Dash) == 4 && m.Pts[0].X == m.Pts[1].X && crosses(m.Pts[0].Y, m.Pts[1].Y) {
			s.joins = append(s.joins, m.Pts[0].X)
		}
	case sheet.Area:
		if m.Grey == 0.25 && crosses(m.Pts[0].Y, m.Pts[2].Y) {
			s.hook = m.Pts[1].X
		}
	}
}

// measured lays the strips' ticks end to end as a user would who cuts at each join and lays line on line, and returns
// every station's distance from the lip.
func measured(t fataler, strips []strip) []float64 {
	out := []float64{0} // the lip
	join := math.NaN()
	for i, s := range strips {
		start := s.hook
		if i > 0 {
			start = s.joins[0] - join // station 0 would stand here
		}
		if math.IsNaN(start) {
			t.Fatalf("strip %d has neither lip nor join", i+1)
		}
		last := math.Inf(1)
		if i < len(strips)-1 {
			last = s.joins[len(s.joins)-1]
		}
		for _, x := range s.ticks {
			if (i == 0 || x > s.joins[0]) && x <= last {
				out = append(out, x-start)
			}
		}
		join = last - start
	}
	return out
}

type fataler interface {
	Fatalf(string, ...any)
	Helper()
}
