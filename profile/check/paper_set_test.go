package check

import (
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile/sheet"
)

// TestASetOnPaper says how every copy stands, what to take off where, and which go side by side; a copy of which nothing
// is measured yet is no trouble.
func TestASetOnPaper(t *testing.T) {
	thick := exact(t, "thick", 0)
	for i, r := range thick.Readings {
		if r.X == 70 { // the first bead's crest
			thick.Readings[i].D += 0.8
		}
	}
	thin := exact(t, "thin", -0.8)
	all := reportsOf(t, exact(t, "good", 0.1), thick, thin, Piece{Name: "begun", Gauged: true})
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
		d, err := Paper(all, PaperOptions{Paper: paper})
		if err != nil {
			t.Fatal(err)
		}
		var words []string
		for _, w := range written(d) {
			words = append(words, w.S)
		}
		page := strings.Join(words, "\n")
		for _, want := range []string{
			"How they stand", string(NotMeasured), "0 of " + strconv.Itoa(len(all[0].Stations)), "Outside the tolerance", "thick\n4\n70.00\nbead, crest\n38.80\n38.00\n0.80",
			"too thin", "Side by side", "good\nthick", "Without a partner: thin, begun.",
		} {
			if !strings.Contains(page, want) {
				t.Errorf("the %s pages do not say %q", paper, want)
			}
		}
		if strings.Contains(page, "…") {
			t.Errorf("something is cut short:\n%s", page)
		}
	}
}
