package check

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestTheFormComesBackFilled: what is written is read as the same readings.
func TestTheFormComesBackFilled(t *testing.T) {
	a, b, empty := exact(t, "first, of oak", 0.1), exact(t, "zweites \"Stück\"", -0.3), Piece{Name: "third", Gauged: true}
	b.Readings = b.Readings[3:]
	var buf bytes.Buffer
	if err := WriteCSV(&buf, reportsOf(t, a, b, empty)); err != nil {
		t.Fatal(err)
	}
	got, err := ReadCSV(&buf, "file")
	if err != nil {
		t.Fatal(err)
	}
	want := []Piece{a, b, empty}
	for i := range want {
		for k := range want[i].Readings { // the file has hundredths
			want[i].Readings[k].X = round2(want[i].Readings[k].X)
			want[i].Readings[k].D = round2(want[i].Readings[k].D)
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	for _, p := range got {
		if err := Accept(original(), p, Options{}); err != nil {
			t.Error(err)
		}
	}
}

func round2(v float64) float64 { return float64(int(v*100+0.5)) / 100 }

func TestSpreadsheetsOfOtherCountries(t *testing.T) {
	want := []Reading{{X: 60, Side: HookSide, D: 40.25}, {X: 70, D: 38}}
	for name, text := range map[string]string{
		"commas":            "x_mm,side,copy_mm\n60,hook side,40.25\n70,,38\n",
		"semicolons":        "x_mm;side;copy_mm\r\n60,0;hook side;40,25\r\n70;;38,0\r\n",
		"tabs":              "x_mm\tside\tcopy_mm\n60\tHook side\t40,25\n70\t\t38\n",
		"a byte order mark": "\ufeffX_mm , side, copy_mm\n60,hook side,40.25\n70,,38\n",
		"more columns":      "note,x_mm,side,copy_mm,mood\nn,60,hook side,40.25,good\n,70,,38,\n,80,,,\n",
		"an empty line":     "x_mm,side,copy_mm\n60,hook side,40.25\n\n,,\n70,,38\n",
	} {
		got, err := ReadCSV(strings.NewReader(text), "file")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(got) != 1 || got[0].Name != "file" || cmp.Diff(want, got[0].Readings) != "" {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// badReadings are files that are refused, and what is said of them.
func badReadings() map[string][2]string {
	return map[string][2]string{
		"nothing":                {"", "no head"},
		"no figures' column":     {"x_mm,diameter\n1,2\n", "copy_mm"},
		"no place's column":      {"copy_mm\n2\n", "x_mm"},
		"a column twice":         {"x_mm,copy_mm,copy_mm\n1,2,3\n", "twice"},
		"no lines":               {"x_mm,copy_mm\n", "no lines"},
		"letters":                {"x_mm,copy_mm\n60,forty\n", `line 2: copy_mm is "forty"`},
		"letters in the place":   {"x_mm,copy_mm\n60,40\nhere,40\n", `line 3: x_mm is "here"`},
		"a unit":                 {"x_mm,copy_mm\n60,40mm\n", "in figures"},
		"below zero":             {"x_mm,copy_mm\n60,-40\n", "not possible"},
		"zero":                   {"x_mm,copy_mm\n60,0\n", "not possible"},
		"a decimal comma":        {"x_mm,copy_mm\n60,40,2\n", "write a point"},
		"endless":                {"x_mm,copy_mm\n60,1e999\n", "in figures"},
		"no number":              {"x_mm,copy_mm\n60,NaN\n", "in figures"},
		"huge":                   {"x_mm,copy_mm\n60,1e300\n", "not possible"},
		"before the piece":       {"x_mm,copy_mm\n-60,40\n", "not possible"},
		"no such side":           {"x_mm,side,copy_mm\n60,left,40\n", "no side"},
		"two readings":           {"x_mm,copy_mm\n60,40\n60,41\n", "second reading"},
		"a quote without an end": {"x_mm,copy_mm\n\"60,40\n", "line"},
		"too many copies":        {"copy,x_mm,copy_mm\n" + many(mostCopies+1), "copies"},
	}
}

func many(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat("i", i%50) + string(rune('A'+i/50)) + ",1,2\n")
	}
	return b.String()
}

func TestBadReadingsAreRefused(t *testing.T) {
	for name, c := range badReadings() {
		got, err := ReadCSV(strings.NewReader(c[0]), "file")
		if !errors.Is(err, ErrReadings) || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%s: %v and %v, want an error with %q", name, got, err, c[1])
		}
	}
}

func TestReadingsOfAnotherPiece(t *testing.T) {
	for text, says := range map[string]string{
		"x_mm,copy_mm\n33.3,40\n":            "no station",
		"x_mm,side,copy_mm\n60,,40\n":        "no station", // a step has two sides
		"x_mm,side,copy_mm\n64,far side,4\n": "no station",
		"x_mm,copy_mm\n64,1.18\n":            "its unit", // inches
	} {
		got, err := ReadCSV(strings.NewReader(text), "file")
		if err != nil {
			t.Fatal(err)
		}
		if err := Accept(original(), got[0], Options{}); !errors.Is(err, ErrReadings) || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func FuzzReadCSV(f *testing.F) {
	f.Add("copy,x_mm,side,copy_mm\na,60,hook side,40\nb;70,,38\n")
	f.Add("x_mm;copy_mm\n60,0;40,25\n")
	for _, c := range badReadings() {
		if len(c[0]) < 1000 {
			f.Add(c[0])
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		pieces, err := ReadCSV(strings.NewReader(text), "file")
		if err != nil {
			return
		}
		for _, p := range pieces {
			r, err := Compare(original(), p, Options{})
			if err != nil {
				t.Fatalf("what was read is refused: %v", err)
			}
			if n, _ := r.Measured(); n+len(r.Stray) != len(p.Readings) {
				t.Fatalf("%d readings, %d placed, %d astray", len(p.Readings), n, len(r.Stray))
			}
		}
	})
}

func FuzzReadSet(f *testing.F) {
	var buf bytes.Buffer
	if err := WriteSet(&buf, Set{Exaggeration: 5, Copies: []Piece{{Name: "a", Pattern: pattern(baluster())}, {Name: "b", Gauged: true, Readings: []Reading{{X: 3, D: 4}}}}}); err != nil {
		f.Fatal(err)
	}
	f.Add(buf.Bytes())
	f.Add([]byte(`{"format":"spindlestick-copies","version":1,"exceptions":[{"x":3,"diameter":0.2}],"copies":[{"calipers":true}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := ReadSet(bytes.NewReader(data))
		if err != nil {
			return
		}
		var again bytes.Buffer
		if err := WriteSet(&again, s); err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		if _, err := ReadSet(&again); err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
		if reports, err := s.Reports(original()); err == nil && len(reports) > 0 {
			if _, err := Paper(reports, PaperOptions{Exaggeration: s.Exaggeration}); err != nil {
				t.Fatal(err)
			}
		}
	})
}
