package check

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"spindlestick/profile/sheet"
)

// written returns every text of a document in order.
func written(d sheet.Document) []sheet.Text {
	var out []sheet.Text
	for _, p := range d.Pages {
		for _, m := range p.Marks {
			if t, ok := m.(sheet.Text); ok {
				out = append(out, t)
			}
		}
	}
	return out
}

func TestPaperSaysWhatTheReportSays(t *testing.T) {
	changed, _ := altered()
	all := reports(t, changed, baluster())
	for _, paper := range []sheet.Paper{"", sheet.A4, sheet.Letter} {
		d, err := Paper(all, PaperOptions{Paper: paper, Date: "a day"})
		if err != nil {
			t.Fatal(err)
		}
		var words []string
		for _, w := range written(d) {
			words = append(words, w.S)
		}
		page := strings.Join(words, "\n")
		for _, r := range all {
			for _, row := range r.Stations {
				for _, s := range []string{mm(row.X), row.What, mm(row.Copy), starred(row.Deviation, row.Differs()), string(row.Verdict)} {
					if !strings.Contains(page, s) {
						t.Errorf("%q is not on the %s paper", s, paper)
					}
				}
			}
			if !strings.Contains(page, r.Summary()) {
				t.Errorf("the summary is not on the %s paper", paper)
			}
		}
		if strings.Contains(page, "…") {
			t.Errorf("something is cut short on %s paper:\n%s", paper, page)
		}
	}
}

func TestEverythingLiesOnThePaper(t *testing.T) {
	changed, _ := altered()
	long := append(append(append([]shape{}, changed...), baluster()...), changed...) // its table needs a second page
	r, err := Compare(Piece{Name: strings.Repeat("a long name ", 30), Pattern: pattern(long)}, Piece{Pattern: pattern(long)}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := Paper(append(reports(t, changed, baluster()[:7]), r), PaperOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range d.Pages {
		inside := func(what string, q sheet.Point) {
			if q.X < 5 || q.Y < 5 || q.X > p.Width-5 || q.Y > p.Height-5 || math.IsNaN(q.X+q.Y) {
				t.Errorf("page %d: %s at %.1f, %.1f", i+1, what, q.X, q.Y)
			}
		}
		for _, m := range p.Marks {
			switch m := m.(type) {
			case sheet.Text:
				for _, c := range m.Box() {
					inside(m.S, c)
				}
			case sheet.Line:
				for _, q := range m.Pts {
					inside("a line", q)
				}
			case sheet.Area:
				for _, q := range m.Pts {
					inside("an area", q)
				}
			}
		}
	}
	var b bytes.Buffer
	if err := sheet.Render(d, sheet.PDF, &b); err != nil || !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) {
		t.Errorf("%v, %d bytes", err, b.Len())
	}
}

// TestTheOverlayEnlargesDeviations: where the crest is 1.4 mm smaller the copy's line lies ten times that, halved, under
// the original.
func TestTheOverlayEnlargesDeviations(t *testing.T) {
	changed, _ := altered()
	r := reports(t, changed)[0]
	lowest := 0.0
	for _, q := range r.both(10) {
		if q.xo > 69.9 && q.xo < 70.1 {
			lowest = math.Min(lowest, q.rc-q.ro)
		}
	}
	if math.Abs(lowest+7) > 0.1 {
		t.Errorf("the crest is drawn %.2f mm from the original, want -7", lowest)
	}
}

func TestPaperRefuses(t *testing.T) {
	if _, err := Paper(nil, PaperOptions{}); err == nil {
		t.Error("no report is printed")
	}
	if _, err := Paper(reports(t, baluster()), PaperOptions{Paper: sheet.Roll}); err == nil {
		t.Error("a roll is taken")
	}
}
