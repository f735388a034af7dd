package plan_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"spindlestick/profile/plan"
	"spindlestick/profile/sheet"
)

func text(t testing.TB, p plan.Plan) string {
	t.Helper()
	var b bytes.Buffer
	if err := plan.WriteText(&b, p.Sections()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// plain is a text in lower case on one line.
func plain(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// TestCautionsStandWhereTheyBelong: face shield and dust mask before the start, rest off before sanding, squares by hand
// with the lathe stopped, stop to measure, unsound and glued blanks, lead, the machine's manual (power tool makers'
// safety sheets; common practice).
func TestCautionsStandWhereTheyBelong(t *testing.T) {
	sections := planned(t, leg(), plan.Options{Spacing: 120}).Sections()
	for _, c := range []struct {
		section string
		words   []string
	}{
		{"before", []string{"face shield", "dust mask", "no gloves", "by hand through a whole turn", "checks", "glued", "manual governs"}},
		{"3.", []string{"stop the lathe to measure"}},
		{"4.", []string{"stop the lathe"}},
		{"9.", []string{"stop the lathe to measure"}},
		{"10.", []string{"rest off first", "never cloth", "with the lathe stopped", "square and pommel are sanded by hand"}},
		{"balusters", []string{"spacing less the smallest facing diameter", "local code"}},
		{"the original", []string{"lead", "quarter turn apart"}},
		{"speed", []string{"manual governs"}},
	} {
		var b bytes.Buffer
		for _, s := range sections {
			if strings.HasPrefix(strings.ToLower(s.Title), c.section) {
				if err := plan.WriteText(&b, []plan.Section{s}); err != nil {
					t.Fatal(err)
				}
			}
		}
		for _, w := range c.words {
			if !strings.Contains(plain(strings.ReplaceAll(b.String(), "! ", "")), w) {
				t.Errorf("section %q does not say %q:\n%s", c.section, w, b.String())
			}
		}
	}
}

func TestARoundPieceHasNoWordOfSquares(t *testing.T) {
	if got := plain(text(t, planned(t, spindle(), plan.Options{}))); strings.Contains(got, "square and pommel are sanded") || !strings.Contains(got, "nothing stays square") {
		t.Error("a spindle without squares is told to sand them, or not told that it has none")
	}
}

// TestTextIsAligned: every line of a table is as the others, and paragraphs keep to their width.
func TestTextIsAligned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		got, err := plan.Make(drawn(t), plan.Options{Species: "black cherry", Copies: 7, Spacing: 130})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range got.Sections() {
			for _, b := range s.Blocks {
				if b.Table == nil {
					continue
				}
				for _, r := range b.Table.Rows {
					if len(r) != len(b.Table.Columns) {
						t.Fatalf("%s: a row of %d cells under %d heads", s.Title, len(r), len(b.Table.Columns))
					}
				}
			}
		}
		var b bytes.Buffer
		if err := plan.WriteText(&b, got.Sections()); err != nil {
			t.Fatal(err)
		}
		for _, l := range strings.Split(b.String(), "\n") {
			if strings.Contains(l, "NaN") || strings.Contains(l, "Inf") || !strings.HasPrefix(l, "  ") && utf8.RuneCountInString(l) > 100 {
				t.Errorf("line %q", l)
			}
		}
	})
}

// TestInchSettingsAreNeverUnder: a setting in 64ths lets nothing be cut under the millimetres beside it.
func TestInchSettingsAreNeverUnder(t *testing.T) {
	got := plain(text(t, planned(t, build(fillet(100, 30), fillet(100, 25)), plan.Options{})))
	// 25 mm and 1/16 in is 26.5875 mm, 1 3/64 in and 0.2 %: the next 64th over it is 1 3/64 = 26.59375.
	if !strings.Contains(got, "26.59 1 3/64") {
		t.Errorf("the setting for 26.5875 mm is missing in\n%s", got)
	}
}

// TestRoughingRunsAwayFromThePommel, where there is one (common practice, no source).
func TestRoughingRunsAwayFromThePommel(t *testing.T) {
	if got := plain(text(t, planned(t, leg(), plan.Options{}))); !strings.Contains(got, "run away from the pommel") || strings.Contains(got, "outwards to its ends") {
		t.Error("a leg is not roughed away from its pommel")
	}
	if got := plain(text(t, planned(t, spindle(), plan.Options{}))); strings.Contains(got, "run away from the pommel") || !strings.Contains(got, "outwards to its ends") {
		t.Error("a spindle without a square speaks of a pommel")
	}
}

// TestAsManyStationsAsTheStickNumbers holds the plan's count against the sheets'.
func TestAsManyStationsAsTheStickNumbers(t *testing.T) {
	p := leg()
	want := fmt.Sprintf("carry over all %d stations", len(sheet.Numbered(p)))
	if !strings.Contains(plain(text(t, planned(t, p, plan.Options{}))), want) {
		t.Errorf("the plan does not say %q", want)
	}
}
