package fit

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile"
)

// compareTurnings is how many random turnings the comparison looks at.
const compareTurnings = 20

// TestWriteComparison is this program's half of testdata/compare/compare.py: into the folder SPINDLESTICK_COMPARE it
// writes the traces of random turnings with their truth, and what the fit makes of every trace there, with its processor time.
func TestWriteComparison(t *testing.T) {
	folder := os.Getenv("SPINDLESTICK_COMPARE")
	if folder == "" {
		t.Skip("SPINDLESTICK_COMPARE names no folder: testdata/compare/compare.py sets it")
	}
	for i := range compareTurnings {
		rng := rand.New(rand.NewPCG(uint64(i), 1902))
		p := plausible(rng)
		name := filepath.Join(folder, fmt.Sprintf("random%02d", i))
		save(t, name+"_trace.csv", func(w io.Writer) error { return profile.WriteCSV(w, traced(p, 0.25, 0.03, rng).Samples) })
		save(t, name+"_truth.json", func(w io.Writer) error { return profile.WritePattern(w, p) })
		save(t, name+"_truth.csv", func(w io.Writer) error { return profile.WriteCSV(w, p.Curve(0.05)) })
	}
	traces, err := filepath.Glob(filepath.Join(folder, "*_trace.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range traces {
		name := strings.TrimSuffix(path, "_trace.csv")
		tr := readTrace(t, path)
		start := processor(t)
		p, err := Trace(tr, Options{})
		took := (processor(t) - start) / 1e9
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		save(t, name+"_fit.json", func(w io.Writer) error { return profile.WritePattern(w, p) })
		save(t, name+"_fit.csv", func(w io.Writer) error { return profile.WriteCSV(w, p.Curve(0.05)) })
		save(t, name+"_fit.seconds", func(w io.Writer) error {
			_, err := fmt.Fprintf(w, "%.4f\n", took)
			return err
		})
	}
}

func save(t *testing.T, path string, write func(io.Writer) error) {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}

// readTrace reads a trace as WriteCSV writes it.
func readTrace(t *testing.T, path string) profile.Trace {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var tr profile.Trace
	for _, row := range rows[1:] {
		x, d, u := value(t, row[0]), value(t, row[1]), value(t, row[2])
		tr.Samples = append(tr.Samples, profile.Sample{X: x, R: d / 2, U: u, State: profile.State(row[3]), Sides: [2]float64{d / 2, d / 2}})
		tr.Length = max(tr.Length, x)
	}
	return tr
}

func value(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
