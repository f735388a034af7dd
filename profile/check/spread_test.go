package check

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"spindlestick/profile/sheet"
)

func spreadOf(t *testing.T) ([]Piece, Spread, sheet.Document) {
	t.Helper()
	pieces := []Piece{
		{Name: "sound", Pattern: pattern(baluster())}, {Name: "worn", Pattern: pattern(worn(baluster(), 1.5)), Weight: 0.5},
		{Name: "longer", Pattern: pattern(longer(baluster(), 6, 20))}, {Name: "left out", Pattern: pattern(scaled(baluster(), 0.1)), Drop: true},
	}
	p, s, err := Likely(pieces, LikelyOptions{})
	if err != nil {
		t.Fatal(err)
	}
	doc, err := SpreadPaper(pieces, p, s, PaperOptions{Date: "1 May"})
	if err != nil {
		t.Fatal(err)
	}
	return pieces, s, doc
}

// TestSpreadOnPaper names what stands out, and every figure that every piece gave.
func TestSpreadOnPaper(t *testing.T) {
	_, s, doc := spreadOf(t)
	var words []string
	for _, w := range written(doc) {
		words = append(words, w.S)
	}
	all := strings.Join(words, "\n")
	for _, want := range []string{"4 left out (dropped)", "2 worn (weight 0.5)", "2 worn: worn at", "3 longer: longer from", "Diameters, mm", "Lengths along the axis, mm", "page 1 of"} {
		if !strings.Contains(all, want) {
			t.Errorf("the pages do not say %q", want)
		}
	}
	if n := strings.Count(all, " *"); n < len(s.Remarks) {
		t.Errorf("%d figures are marked, %d are named", n, len(s.Remarks))
	}
}

func TestSpreadAsATable(t *testing.T) {
	pieces, s, _ := spreadOf(t)
	var buf bytes.Buffer
	if err := WriteSpreadCSV(&buf, pieces, s); err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(&buf).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	words, apart := 0, 0
	for _, a := range append(s.Diameters, s.Lengths...) {
		words += len(a.Words)
	}
	for _, l := range lines[1:] {
		if l[9] == "yes" {
			apart++
		}
		if l[6] == "left out" {
			t.Error("a dropped piece has a word")
		}
	}
	if len(lines) != words+1 || apart != len(s.Remarks) {
		t.Errorf("%d lines of %d figures, %d apart of %d", len(lines)-1, words, apart, len(s.Remarks))
	}
}
