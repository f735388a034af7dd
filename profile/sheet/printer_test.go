package sheet_test

import (
	"math"
	"strings"
	"testing"

	"spindlestick/profile/sheet"
)

func says(p sheet.Page, want string) bool {
	for _, t := range textsOf(p) {
		if strings.Contains(t.S, want) {
			return true
		}
	}
	return false
}

// TestPrinterIsNamed: every page says for which printer it was made and what was undone, and only then.
func TestPrinterIsNamed(t *testing.T) {
	x, err := sheet.Correction(99.4)
	if err != nil {
		t.Fatal(err)
	}
	y, err := sheet.Correction(100.3)
	if err != nil {
		t.Fatal(err)
	}
	for _, paper := range sheet.Papers() {
		o := sheet.Options{Show: sheet.All, Paper: paper, Printer: "Loft", ScaleX: x, ScaleY: y, Notes: []string{"from the landing"}}
		for _, page := range mustMake(t, baluster(), o).Pages {
			if !says(page, "For printer Loft only") || !says(page, "99.40 mm along the paper and 100.30 mm across") || !says(page, "from the landing") {
				t.Errorf("%s, %s does not say for which printer it is", paper, page.Name)
			}
			for _, f := range pageFaults(page) {
				t.Errorf("%s: %s", paper, f)
			}
		}
	}
	for _, page := range mustMake(t, baluster(), sheet.Options{}).Pages {
		if says(page, "printer") {
			t.Errorf("%s names a printer", page.Name)
		}
	}
}

// TestCorrection: printed with it, a printer that makes 100 mm of 99.4 mm makes it true.
func TestCorrection(t *testing.T) {
	c, err := sheet.Correction(99.4)
	if err != nil || math.Abs(c*100*0.994-100) > 1e-9 {
		t.Errorf("correction %v, %v", c, err)
	}
	for _, measured := range []float64{0, -100, 94, 106, math.NaN(), math.Inf(1)} {
		if c, err := sheet.Correction(measured); err == nil {
			t.Errorf("a bar of %v mm is taken: %v", measured, c)
		}
	}
}
