package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// stool is a pattern file: a square, its shoulder, a bead between fillets, and a taper.
const stool = `{"format":"spindlestick-pattern","version":1,"length":220,"elements":[
 {"kind":"square","x0":0,"x1":60,"d0":41,"d1":41,"side":41},
 {"kind":"shoulder","x0":60,"x1":72,"d0":57.98,"d1":37,"side":41,"style":"straight"},
 {"kind":"fillet","x0":72,"x1":76,"d0":31,"d1":31},
 {"kind":"bead","x0":76,"x1":88,"d0":31,"d1":31,"sagitta":4},
 {"kind":"fillet","x0":88,"x1":92,"d0":31,"d1":31},
 {"kind":"taper","x0":92,"x1":220,"d0":31,"d1":22}]}`

func TestPlanIsPrinted(t *testing.T) {
	path := file(t, "stool.json", []byte(stool))
	pdf := filepath.Join(t.TempDir(), "plan.pdf")
	got := call("plan", path, "--copies", "12", "--species", "white oak", "--moisture", "12,8", "--spacing", "4 3/4in", "--waste", "0,30mm",
		"--tenons", "0,20mm", "--stock", "2400mm", "--stock", "8in", "--top-speed", "3000", "-o", pdf)
	if got.code != exitDone || got.stderr != "" {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	// The blank: 41 mm sized for drying from 12 to 8 % (white oak, C_T = 0.00365) and 1/32 in; 220 mm and 30 mm of waste.
	for _, words := range []string{"42.40 mm", "250.00 mm", "Stock for 12 copies", "too short", "White Oak", "1. Pommel first", "10. Rest off", "Face shield", "nominal 3 x 3 in", "between the rails, from 0.00 mm"} {
		if !strings.Contains(strings.ToLower(got.stdout), strings.ToLower(words)) {
			t.Errorf("the plan does not say %q:\n%s", words, got.stdout)
		}
	}
	if data, err := os.ReadFile(pdf); err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Errorf("the sheet: %v", err)
	}
}

func TestPlanFailsClearly(t *testing.T) {
	path := file(t, "stool.json", []byte(stool))
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"no file":            {[]string{"nowhere.json"}, exitFail, "no such file"},
		"unknown wood":       {[]string{path, "--species", "plywood"}, exitFail, "white oak"},
		"too wet":            {[]string{path, "--species", "white oak", "--moisture", "30,8"}, exitFail, "14 %"},
		"no copies":          {[]string{path, "--copies", "0"}, exitUsage, "copies"},
		"moisture, no wood":  {[]string{path, "--moisture", "12,8"}, exitUsage, "species"},
		"one moisture":       {[]string{path, "--species", "white oak", "--moisture", "12"}, exitUsage, "12,8"},
		"negative waste":     {[]string{path, "--waste=-3mm"}, exitUsage, "below zero"},
		"spacing":            {[]string{path, "--spacing", "wide"}, exitUsage, "wide"},
		"tenons alone":       {[]string{path, "--tenons", "25mm"}, exitUsage, "--spacing"},
		"another ending":     {[]string{path, "-o", "plan.doc"}, exitUsage, ".pdf"},
		"missing folder":     {[]string{path, "-o", filepath.Join(t.TempDir(), "no", "plan.pdf")}, exitFail, "no"},
		"sanding over sizes": {[]string{path, "--sanding", "3mm"}, exitFail, "sanding"},
	} {
		got := call(append([]string{"plan"}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.stderr, c.says) || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
			t.Errorf("%s: exit %d, stderr %q; want %d and one line with %q", name, got.code, got.stderr, c.code, c.says)
		}
	}
}
