package app

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile/sheet"
)

// TestPrintersAreKept: what the bars measured is kept under the printer's name, the last measurement of a name counts, and
// the sheets are made for the printer that is chosen.
func TestPrintersAreKept(t *testing.T) {
	w := bench(t)
	w.keepPrinter(printer{"Loft", 99.4, 100.3})
	w.keepPrinter(printer{"Shop", 100.1, 100})
	w.keepPrinter(printer{"Loft", 99.5, 100.2})
	if got := w.printers(); len(got) != 2 {
		t.Fatalf("printers %v", got)
	}
	o := w.sheetOptions(sheetChoice{show: sheet.Stick, paper: sheet.A4, printer: "Loft"})
	if o.Printer != "Loft" || math.Abs(o.ScaleX*99.5-100) > 1e-9 || math.Abs(o.ScaleY*100.2-100) > 1e-9 {
		t.Errorf("made for %q, %v x %v", o.Printer, o.ScaleX, o.ScaleY)
	}
	for _, name := range []string{"", "Attic", anyPrinter} {
		if o := w.sheetOptions(sheetChoice{printer: name}); o.Printer != "" || o.ScaleX != 0 || o.ScaleY != 0 {
			t.Errorf("%q corrects: %v x %v", name, o.ScaleX, o.ScaleY)
		}
	}
}

func TestReadPrinter(t *testing.T) {
	p, err := readPrinter("  Loft,  plain   paper ", "99.6", "3 15/16in")
	if err != nil || p.name != "Loft, plain paper" || p.along != 99.6 || math.Abs(p.across-100.0125) > 1e-9 {
		t.Errorf("%+v, %v", p, err)
	}
	for name, c := range map[string][3]string{
		"no name": {" ", "100", "100"}, "taken name": {anyPrinter, "100", "100"}, "no length": {"A", "", "100"}, "words": {"A", "100", "long"},
		"fitted to the page": {"A", "93", "93"}, "nothing": {"A", "0", "100"},
	} {
		if p, err := readPrinter(c[0], c[1], c[2]); err == nil {
			t.Errorf("%s is taken: %+v", name, p)
		}
	}
}

// TestPrinterSettings: a printer reads back from the settings as it was, and whatever else stands there does no harm.
func TestPrinterSettings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := printer{rapid.StringMatching(`[^\x00]+`).Draw(t, "name"), rapid.Float64Range(96, 104).Draw(t, "along"), rapid.Float64Range(96, 104).Draw(t, "across")}
		if got, ok := decodePrinter(p.encoded()); !ok || got != p {
			t.Fatalf("%+v became %+v, %v", p, got, ok)
		}
		if got, ok := decodePrinter(rapid.String().Draw(t, "other")); ok {
			if _, _, err := got.scales(); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// TestCutsAreKept: the length before line 1 and what sizing leaves are kept as they were typed; nought is none, nothing
// the usual.
func TestCutsAreKept(t *testing.T) {
	w := bench(t)
	var mm float64
	var given bool
	set := func(v float64, g bool) { mm, given = v, g }
	e := w.keptLength("hook", "", "", set)
	e.SetText("5/16in")
	if math.Abs(mm-7.9375) > 1e-9 || !given {
		t.Errorf("%v mm, %v", mm, given)
	}
	e.SetText("-3")
	if math.Abs(mm-7.9375) > 1e-9 {
		t.Errorf("a length under zero was taken: %v", mm)
	}
	mm = 0
	if w.keptLength("hook", "", "", set); math.Abs(mm-7.9375) > 1e-9 {
		t.Errorf("next time it reads %v mm", mm)
	}
	for want, c := range map[float64]struct {
		mm    float64
		given bool
	}{-1: {0, true}, 0: {0, false}, 2: {2, true}} {
		if got := allowanceOf(c.mm, c.given); got != want {
			t.Errorf("%+v gives an allowance of %v", c, got)
		}
	}
}
