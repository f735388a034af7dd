package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/profile/sheet"
)

const twoCylinders = `{"format":"spindlestick-pattern","version":1,"length":100,"elements":[
{"kind":"cylinder","x0":0,"x1":40,"d0":30,"d1":30},{"kind":"cylinder","x0":40,"x1":100,"d0":20,"d1":20}]}`

// sheetOf writes a sheet of two cylinders and returns the file.
func sheetOf(t *testing.T, ending string, flags ...string) []byte {
	t.Helper()
	out := filepath.Join(t.TempDir(), "a"+ending)
	got := call(append([]string{"sheet", file(t, "p.json", []byte(twoCylinders)), "-o", out}, flags...)...)
	if got.code != exitDone {
		t.Fatalf("%v: exit %d: %s", flags, got.code, got.stderr)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestSheetFigures(t *testing.T) {
	var list sheet.StationList
	if err := json.Unmarshal(sheetOf(t, ".json", "--hook", "8mm", "--allowance", "1/8in"), &list); err != nil {
		t.Fatal(err)
	}
	if list.Hook != 8 || list.Allowance != 3.175 || len(list.Stations) != 3 || list.Stations[1].Sizing != 23.175 {
		t.Errorf("%+v", list)
	}
	if err := json.Unmarshal(sheetOf(t, ".json", "--allowance", "0"), &list); err != nil || list.Stations[1].Before.MM != 30 {
		t.Errorf("%v, %+v", err, list)
	}
	if data := sheetOf(t, ".csv"); !bytes.Contains(data, []byte("\n2,edge,cylinder,40.000,,30.000,round,20.000,round,,21.588,b,visible\n")) {
		t.Errorf("the CSV reads\n%s", data)
	}
}

// TestSheetInWorkshopSizes: sizes are whole millimetres, the overall length is not touched, and every change is listed.
func TestSheetInWorkshopSizes(t *testing.T) {
	pattern := strings.NewReplacer(`"length":100`, `"length":100.3`, "40", "40.2", ":100,", ":100.3,", "20", "20.4").Replace(twoCylinders)
	out := filepath.Join(t.TempDir(), "a.json")
	got := call("sheet", file(t, "p.json", []byte(pattern)), "-o", out, "--round", "1mm")
	if got.code != exitDone || strings.Count(got.stdout, "\n") != 4 || !strings.Contains(got.stdout, "largest change 0.40 mm") {
		t.Fatalf("exit %d: %s\n%s", got.code, got.stderr, got.stdout)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	var list sheet.StationList
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	if list.Length != 100.3 || list.Stations[1].X != 40 || list.Stations[2].Before.MM != 20 {
		t.Errorf("%+v", list)
	}
	if got := call("sheet", file(t, "p.json", []byte(pattern)), "-o", out, "--round", "3mm"); got.code != exitUsage {
		t.Errorf("a rounding to 3 mm: exit %d: %s", got.code, got.stderr)
	}
}

// TestSheetForAPrinter: the PNG shows the correction, so it is told apart by its bytes; impossible ones are wrong usage.
func TestSheetForAPrinter(t *testing.T) {
	plain := sheetOf(t, ".png")
	if bytes.Equal(plain, sheetOf(t, ".png", "--printer", "Loft", "--printer-x", "99.6mm", "--printer-y", "100.2mm")) {
		t.Error("the correction changes nothing")
	}
	for _, flags := range [][]string{{"--printer-x", "90mm"}, {"--hook", "-1"}, {"--hook", "long"}, {"--allowance", "-2"}} {
		got := call(append([]string{"sheet", file(t, "p.json", []byte(twoCylinders)), "-o", "x.pdf"}, flags...)...)
		if got.code != exitUsage || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
			t.Errorf("%v: exit %d: %q", flags, got.code, got.stderr)
		}
	}
	got := call("sheet", file(t, "p.json", []byte(twoCylinders)), "-o", filepath.Join(t.TempDir(), "x.pdf"), "--hook", "150mm")
	if got.code != exitFail || !strings.Contains(got.stderr, "100 mm") {
		t.Errorf("a hook of 150 mm: exit %d: %q", got.code, got.stderr)
	}
}
