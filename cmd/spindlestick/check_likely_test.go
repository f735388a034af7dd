package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/app/job"
)

// TestLikelyPattern of three originals, one of them thinner at its crest.
func TestLikelyPattern(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	a, b, c := saved(t, 30), saved(t, 28.5), saved(t, 30.1)
	got := call("check", "--likely", a, b, c, "-o", in("l.turning"), "-o", in("l.json"), "-o", in("l.pdf"), "-o", in("l.csv"))
	if got.code != exitDone || !strings.Contains(got.stdout, "worn at 106.0 mm") {
		t.Fatalf("exit %d: %s\n%s", got.code, got.stderr, got.stdout)
	}
	for _, name := range []string{"l.turning", "l.json"} {
		j, err := job.Open(in(name))
		if err != nil {
			t.Fatal(err)
		}
		if _, d, ok := j.Pattern.Elements[1].Mid(); !ok || math.Abs(d-30.05) > 0.06 {
			t.Errorf("%s: the crest is %.2f mm", name, d)
		}
	}
	for _, name := range []string{"l.pdf", "l.csv"} {
		if info, err := os.Stat(in(name)); err != nil || info.Size() < 500 {
			t.Errorf("%s: %v", name, err)
		}
	}
	crest := func(flags ...string) float64 {
		t.Helper()
		if got := call(append([]string{"check", "--likely", a, b, c, "-o", in("x.json")}, flags...)...); got.code != exitDone {
			t.Fatalf("%v: exit %d: %s", flags, got.code, got.stderr)
		}
		j, err := job.Open(in("x.json"))
		if err != nil {
			t.Fatal(err)
		}
		_, d, _ := j.Pattern.Elements[1].Mid()
		return d
	}
	if d := crest("--drop", "1", "--worn"); math.Abs(d-30.1) > 0.01 {
		t.Errorf("of 28.5 and 30.1 the fuller: %.2f", d)
	}
	if d := crest("--drop", "1", "--weight", "1=3", "--weight", "2=20"); d > 29 {
		t.Errorf("with the thin one weighty: %.2f", d)
	}
}

func TestLikelyFails(t *testing.T) {
	a := saved(t, 30)
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"one alone":         {[]string{"--likely", a}, exitUsage, "two originals"},
		"no such file":      {[]string{"--likely", a, "nowhere.json"}, exitFail, "no such file"},
		"dropping a third":  {[]string{"--likely", a, a, "--drop", "3"}, exitUsage, "2 files"},
		"weighing a third":  {[]string{"--likely", a, a, "--weight", "3=1"}, exitUsage, "2 files"},
		"weighing nothing":  {[]string{"--likely", a, a, "--weight", "2=0"}, exitUsage, "--drop"},
		"weighing in words": {[]string{"--likely", a, a, "--weight", "half"}, exitUsage, "2=0.5"},
		"dropping one":      {[]string{"--likely", a, a, "--drop", "1"}, exitFail, "two or more"},
		"worn copies":       {[]string{a, a, "--worn"}, exitUsage, "--likely"},
		"copies to a job":   {[]string{a, a, "-o", "x.turning"}, exitUsage, ".pdf"},
	} {
		got := call(append([]string{"check"}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.stderr, c.says) || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
			t.Errorf("%s: exit %d, %q", name, got.code, got.stderr)
		}
	}
}

func FuzzWeightFlag(f *testing.F) {
	for _, s := range []string{"2=0.5", "2", "=", "x=1", "1=-1", "1=inf", "1=nan", "99999999999999999999=1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var w weightFlag
		if w.UnmarshalText([]byte(text)) == nil && !(w.weight > 0 && w.weight <= 1000) {
			t.Errorf("%q is taken for a weight of %v", text, w.weight)
		}
	})
}
