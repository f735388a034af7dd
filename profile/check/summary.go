package check

import (
	"fmt"
	"strings"
)

// Verdicts returns every verdict, the good one first.
func Verdicts() []Verdict { return []Verdict{Inside, Unsure, Outside, NotSeen, NotMeasured} }

// Summary counts the verdicts in one sentence.
func (r Report) Summary() string {
	diameters, places := map[Verdict]int{}, map[Verdict]int{}
	for _, s := range r.Stations {
		diameters[s.Verdict]++
	}
	for _, p := range r.Positions {
		places[p.Verdict]++
	}
	out := "Diameters: " + counted(diameters) + "."
	if len(r.Positions) > 0 {
		out += " Places: " + counted(places) + "."
	}
	return out
}

func counted(n map[Verdict]int) string {
	var parts []string
	for _, v := range Verdicts() {
		if n[v] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[v], v))
		}
	}
	return strings.Join(parts, ", ")
}
