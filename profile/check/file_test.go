package check

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

func reports(t *testing.T, copies ...[]shape) []Report {
	t.Helper()
	var out []Report
	for _, c := range copies {
		r, err := Compare(Piece{Name: "original", Pattern: pattern(baluster())}, Piece{Name: "copy", Pattern: pattern(c)}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, r)
	}
	return out
}

func TestJSONHasTheAgreedWords(t *testing.T) {
	changed, _ := altered()
	for copies, reports := range map[int][]Report{0: reports(t, changed), 2: reports(t, changed, baluster())} {
		var b bytes.Buffer
		if err := WriteJSON(&b, reports); err != nil {
			t.Fatal(err)
		}
		var f struct {
			Alignment string
			Stations  []map[string]any
			Copies    []struct{ Stations []map[string]any }
		}
		if err := json.Unmarshal(b.Bytes(), &f); err != nil {
			t.Fatal(err)
		}
		if f.Alignment != "hook end" || len(f.Stations) != len(reports[0].Stations) || len(f.Copies) != copies {
			t.Errorf("alignment %q, %d stations, %d copies", f.Alignment, len(f.Stations), len(f.Copies))
		}
		for _, s := range f.Stations {
			for _, key := range []string{"x", "original", "copy", "deviation", "u", "verdict"} {
				if _, ok := s[key]; !ok || len(s) != 6 {
					t.Fatalf("a station has %v", s)
				}
			}
		}
	}
	if err := WriteJSON(&bytes.Buffer{}, nil); err == nil {
		t.Error("no report is written as one")
	}
}

// TestACopyCutShort: what the copy does not have is null, not zero.
func TestACopyCutShort(t *testing.T) {
	short := baluster()[:7]
	var b bytes.Buffer
	if err := WriteJSON(&b, reports(t, short)); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `"copy": null`) || !strings.Contains(b.String(), string(NotSeen)) {
		t.Errorf("%s", b.String())
	}
}
