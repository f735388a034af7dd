package plan

import "testing"

// A table that goes over to another page is headed there too.
func TestTableIsHeadedOnEveryPage(t *testing.T) {
	table := Table{Columns: []Column{{Head: "at"}, {Head: "what"}}}
	for range 30 {
		table.Rows = append(table.Rows, []string{"1", "x"})
	}
	pages := paginate(tableRows(table, 200), 12*bodyLine)
	if len(pages) < 3 {
		t.Fatalf("%d pages", len(pages))
	}
	lines := 0
	for i, page := range pages {
		used := 0.0
		for _, r := range page {
			used += r.height
			if r.head != nil {
				lines++
			}
		}
		if page[0].head != nil || used > 12*bodyLine+1e-9 {
			t.Errorf("page %d begins without a head, or is %.1f mm full", i+1, used)
		}
	}
	if lines != 30 {
		t.Errorf("%d of 30 lines are set", lines)
	}
}
