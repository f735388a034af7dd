package sheet_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

func mustMake(t testing.TB, p profile.Pattern, o sheet.Options) sheet.Document {
	t.Helper()
	d, err := sheet.Make(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

type bounds struct{ x0, y0, x1, y1 float64 }

// boxOf is the upright rectangle around a text; texts stand level or upright, so it is no larger than the text.
func boxOf(t sheet.Text) bounds {
	b := bounds{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, c := range t.Box() {
		b.x0, b.y0 = math.Min(b.x0, c.X), math.Min(b.y0, c.Y)
		b.x1, b.y1 = math.Max(b.x1, c.X), math.Max(b.y1, c.Y)
	}
	return b
}

// overlap reports whether two boxes share more than rounding leaves.
func (b bounds) overlap(c bounds) bool {
	const eps = 1e-6
	return b.x0 < c.x1-eps && c.x0 < b.x1-eps && b.y0 < c.y1-eps && c.y0 < b.y1-eps
}

func textsOf(p sheet.Page) []sheet.Text {
	var out []sheet.Text
	for _, m := range p.Marks {
		if t, ok := m.(sheet.Text); ok {
			out = append(out, t)
		}
	}
	return out
}

// pageFaults lists texts that touch one another or leave the page.
func pageFaults(p sheet.Page) []string {
	var out []string
	texts := textsOf(p)
	boxes := make([]bounds, len(texts))
	for i, t := range texts {
		b := boxOf(t)
		boxes[i] = b
		if b.x0 < 0 || b.y0 < 0 || b.x1 > p.Width || b.y1 > p.Height {
			out = append(out, fmt.Sprintf("%s: %q leaves the page: %.1f", p.Name, t.S, b))
		}
		for k, c := range boxes[:i] {
			if b.overlap(c) {
				out = append(out, fmt.Sprintf("%s: %q lies on %q", p.Name, t.S, texts[k].S))
			}
		}
	}
	return out
}

func TestTextsOfExamplesKeepApart(t *testing.T) {
	for name, p := range examples() {
		for _, paper := range sheet.Papers() {
			for _, u := range []profile.Unit{profile.MM, profile.Inch, profile.Fraction} {
				d := mustMake(t, p, sheet.Options{Show: sheet.All, Paper: paper, Units: u, Title: name, Date: "3 May", Notes: []string{"from the landing"}, Group: 0.2})
				for _, page := range append(d.Pages, d.Whole) {
					for _, f := range pageFaults(page) {
						t.Errorf("%s, %s, %s: %s", name, paper, u, f)
					}
				}
			}
		}
	}
}

// TestTextsKeepApart: whatever is turned, no figure lies on another or leaves the page.
func TestTextsKeepApart(t *testing.T) {
	check(t, func(t *rapid.T) {
		o := sheet.Options{
			Show:      sheet.All,
			Paper:     rapid.SampledFrom(sheet.Papers()).Draw(t, "paper"),
			Units:     rapid.SampledFrom([]profile.Unit{profile.MM, profile.Inch, profile.Fraction}).Draw(t, "units"),
			Title:     rapid.StringN(0, 80, -1).Draw(t, "title"),
			Notes:     rapid.SliceOfN(rapid.StringN(0, 300, -1), 0, 4).Draw(t, "notes"),
			ScaleX:    rapid.Float64Range(0.98, 1.02).Draw(t, "sx"),
			ScaleY:    rapid.Float64Range(0.98, 1.02).Draw(t, "sy"),
			Printer:   rapid.StringN(0, 60, -1).Draw(t, "printer"),
			Hook:      rapid.SampledFrom([]float64{0, 6, 40, 100}).Draw(t, "hook"),
			Allowance: rapid.SampledFrom([]float64{0, -1, 0.4, 3}).Draw(t, "allowance"),
			Group:     rapid.SampledFrom([]float64{0, -1, 2}).Draw(t, "group"),
		}
		d, err := sheet.Make(anyPattern(t), o)
		if errors.Is(err, sheet.ErrCrowded) || errors.Is(err, sheet.ErrTooWide) {
			t.Skip(err)
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, page := range append(d.Pages, d.Whole) {
			if f := pageFaults(page); len(f) > 0 {
				t.Fatal(strings.Join(f, "\n"))
			}
		}
	})
}

// TestDiametersAreReadable: a diameter on the stick is never under 2.5 mm high, and 5 mm high where its station stands
// 20 mm from any other.
func TestDiametersAreReadable(t *testing.T) {
	for name, p := range examples() {
		caps := map[string]float64{}
		for _, page := range mustMake(t, p, sheet.Options{}).Pages {
			for _, text := range textsOf(page) {
				if text.Bold && text.Turn != 0 && strings.ContainsAny(text.S, "0123456789") {
					caps[text.S] = math.Max(caps[text.S], text.Cap)
					if text.Cap < 2.5 {
						t.Errorf("%s: %q is %.2f mm high", name, text.S, text.Cap)
					}
				}
			}
		}
		for _, s := range alone(p, 20) {
			if d := fmt.Sprintf("%.1f", s.Diameter()); caps[d] != 5 && !s.Step(0.1) {
				t.Errorf("%s: %s at %.0f mm is %.1f mm high", name, d, s.X, caps[d])
			}
		}
	}
}

// alone returns the round stations that stand at least so far from all others.
func alone(p profile.Pattern, far float64) []profile.Station {
	var out []profile.Station
	all := p.Stations()
	for i, s := range all {
		flat := p.Elements[min(s.Element, len(p.Elements)-1)].Side > 0 || s.Element > 0 && p.Elements[s.Element-1].Side > 0
		if (i == 0 || s.X-all[i-1].X >= far) && (i == len(all)-1 || all[i+1].X-s.X >= far) && !flat {
			out = append(out, s)
		}
	}
	return out
}

func TestNotesThatDoNotFitGetTheirPage(t *testing.T) {
	long := strings.Repeat("Found in the attic beside its broken twin. ", 20)
	d := mustMake(t, finial(), sheet.Options{Notes: []string{long}})
	last := d.Pages[len(d.Pages)-1]
	var all []string
	for _, text := range textsOf(last) {
		all = append(all, text.S)
	}
	if last.Name != "Notes" || !strings.Contains(strings.Join(all, " "), strings.TrimSpace(long)) {
		t.Errorf("the last page is %q and says %q", last.Name, all)
	}
}
