package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/profile"
)

// saved writes a plain spindle, its bead's crest at d, as a pattern file.
func saved(t *testing.T, crest float64) string {
	t.Helper()
	bead := profile.Element{Kind: profile.Bead, X0: 100, X1: 112, D0: 24, D1: 24}
	bead, ok := bead.WithMid(crest)
	if !ok {
		t.Fatalf("no bead reaches %v", crest)
	}
	p := profile.Pattern{Length: 300, Elements: []profile.Element{
		{Kind: profile.Taper, X0: 0, X1: 100, D0: 16, D1: 24}, bead, {Kind: profile.Taper, X0: 112, X1: 300, D0: 24, D1: 16},
	}}
	var b bytes.Buffer
	if err := profile.WritePattern(&b, p); err != nil {
		t.Fatal(err)
	}
	return file(t, "spindle.json", b.Bytes())
}

type checked struct {
	Alignment string
	Stations  []struct {
		X, Original, Copy, Deviation, U float64
		Verdict                         string
	}
	Positions []struct{ X, Copy, Deviation, U float64 }
	Copies    []json.RawMessage
}

func readChecked(t *testing.T, path string) (c checked) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &c); err != nil {
		t.Fatal(err)
	}
	return c
}

func TestCheckPatterns(t *testing.T) {
	dir, original := t.TempDir(), saved(t, 30)
	report := filepath.Join(dir, "r.json")
	got := call("check", original, saved(t, 31.2), original, "-o", report)
	if got.code != exitDone || strings.Count(got.stdout, "against") != 2 || !strings.Contains(got.stdout, "outside") {
		t.Fatalf("exit %d: %s\n%s", got.code, got.stderr, got.stdout)
	}
	c := readChecked(t, report)
	if c.Alignment != "hook end" || len(c.Stations) != 5 || len(c.Copies) != 2 {
		t.Fatalf("%+v", c)
	}
	for _, s := range c.Stations {
		want, verdict := 0.0, "inside"
		if math.Abs(s.X-106) < 1e-6 {
			want, verdict = 1.2, "outside"
		}
		if math.Abs(s.Deviation-want) > 1e-3 || s.Verdict != verdict {
			t.Errorf("at %.2f: %+.3f, %s", s.X, s.Deviation, s.Verdict)
		}
	}
	paper := filepath.Join(dir, "r.pdf")
	if got := call("check", original, saved(t, 31.2), "-o", paper, "--align", "fit", "--diameter", "2mm", "--at", "106=0.1mm", "--paper", "letter"); got.code != exitDone || !strings.Contains(got.stdout, "best fit") {
		t.Fatalf("exit %d: %s\n%s", got.code, got.stderr, got.stdout)
	}
	if data, err := os.ReadFile(paper); err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Errorf("%v", err)
	}
}

func TestCheckFails(t *testing.T) {
	original := saved(t, 30)
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"no copy":         {[]string{original}, exitUsage, "copy"},
		"another ending":  {[]string{original, original, "-o", "r.txt"}, exitUsage, ".json"},
		"by eye":          {[]string{original, original, "--align", "eye"}, exitUsage, "hook"},
		"not enlarged":    {[]string{original, original, "--exaggerate", "0.1"}, exitUsage, "1000"},
		"missing":         {[]string{original, "nowhere.turning"}, exitFail, "no such file"},
		"missing photo":   {[]string{original, "nowhere.jpg"}, exitFail, "no such file"},
		"no photo":        {[]string{original, file(t, "a.jpg", []byte("x"))}, exitFail, "not a picture"},
		"no station":      {[]string{original, original, "--align", "50mm"}, exitFail, "no station"},
		"no such station": {[]string{original, original, "--at", "50=1mm"}, exitFail, "no station"},
	} {
		got := call(append([]string{"check"}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.stderr, c.says) || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
			t.Errorf("%s: exit %d, %q", name, got.code, got.stderr)
		}
	}
}

// TestCheckPhotoAgainstItself traces one photograph twice: nothing differs.
func TestCheckPhotoAgainstItself(t *testing.T) {
	dir := t.TempDir()
	kept, report := filepath.Join(dir, "leg.turning"), filepath.Join(dir, "r.json")
	if got := call("trace", photos+"leg.jpg", "--height", "level", "--job", kept); got.code != exitDone {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	if got := call("check", kept, photos+"leg.jpg", "--height", "level", "-o", report); got.code != exitDone {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	c := readChecked(t, report)
	if len(c.Stations) < 4 {
		t.Fatalf("%d stations", len(c.Stations))
	}
	for _, s := range c.Stations {
		if math.Abs(s.Deviation) > 1e-3 || s.Verdict == "outside" {
			t.Errorf("at %.2f: %+.3f, %s", s.X, s.Deviation, s.Verdict)
		}
	}
}
