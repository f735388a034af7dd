package plan_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile/plan"
	"spindlestick/profile/sheet"
)

// TestSheetHoldsTheWholePlan: every word of the text stands on some page, and every mark on its paper.
func TestSheetHoldsTheWholePlan(t *testing.T) {
	p := planned(t, leg(), plan.Options{Copies: 4, Species: "sugar maple", Spacing: 115})
	for _, paper := range []sheet.Paper{"", sheet.A4, sheet.Letter} {
		doc, err := p.Sheet(plan.SheetOptions{Title: "Sewing stool", Paper: paper})
		if err != nil {
			t.Fatal(err)
		}
		var words []string
		for _, page := range doc.Pages {
			for _, m := range page.Marks {
				if s, ok := m.(sheet.Text); ok {
					words = append(words, s.S)
				}
			}
		}
		all := plain(strings.Join(words, " "))
		for _, s := range p.Sections() {
			if !strings.Contains(all, plain(s.Title)) {
				t.Errorf("no heading %q", s.Title)
			}
			for _, b := range s.Blocks {
				if b.Table == nil && !strings.Contains(all, plain(b.Text)) {
					t.Errorf("not on paper: %s", b.Text)
				}
			}
		}
	}
}

func TestNothingLeavesThePaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := plan.Make(drawn(t), plan.Options{Species: "white ash", Spacing: 130})
		if err != nil {
			t.Fatal(err)
		}
		doc, err := p.Sheet(plan.SheetOptions{Title: "Drawn", Paper: rapid.SampledFrom([]sheet.Paper{sheet.A4, sheet.Letter}).Draw(t, "paper")})
		if err != nil {
			t.Fatal(err)
		}
		for _, page := range append(doc.Pages, doc.Whole) {
			for _, m := range page.Marks {
				for _, q := range corners(m) {
					if q.X < 8 || q.X > page.Width-8 || q.Y < 8 || q.Y > page.Height-8 {
						t.Fatalf("%+v lies at %v on a page of %v x %v", m, q, page.Width, page.Height)
					}
				}
			}
		}
	})
}

func corners(m sheet.Mark) []sheet.Point {
	switch m := m.(type) {
	case sheet.Line:
		return m.Pts
	case sheet.Area:
		return m.Pts
	case sheet.Text:
		b := m.Box()
		return b[:]
	}
	return nil
}

func TestSheetRenders(t *testing.T) {
	doc, err := planned(t, spindle(), plan.Options{}).Sheet(plan.SheetOptions{Title: "Spindle"})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.Render(doc, sheet.PDF, &b); err != nil || !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) {
		t.Errorf("%v, %d bytes", err, b.Len())
	}
}

func TestSheetRefusesOtherPaper(t *testing.T) {
	if _, err := planned(t, leg(), plan.Options{}).Sheet(plan.SheetOptions{Paper: sheet.Roll}); !errors.Is(err, plan.ErrOption) {
		t.Errorf("a roll: %v", err)
	}
}
