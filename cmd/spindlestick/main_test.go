package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/app/job"
)

const photos = "../../testdata/photos/"

// outcome is what a command left behind.
type outcome struct {
	code           int
	stdout, stderr string
}

func call(args ...string) outcome {
	var out, errs bytes.Buffer
	code := run(environment{context.Background(), &out, &errs}, args)
	return outcome{code, out.String(), errs.String()}
}

// file writes a test file and returns its path.
func file(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// pngClaiming is the head of a PNG file (ISO/IEC 15948: signature and IHDR) that claims a size.
func pngClaiming(w, h uint32) []byte {
	ihdr := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)...)
	ihdr = append(ihdr, 8, 2, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	out = append(out, ihdr...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(ihdr))
}

func TestBadInputIsOneClearLine(t *testing.T) {
	leg, err := os.ReadFile(photos + "leg.jpg")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		args []string
		says string
	}{
		"no file":       {[]string{"trace", "nowhere.jpg"}, "no such file"},
		"a folder":      {[]string{"trace", t.TempDir()}, "folder"},
		"empty":         {[]string{"trace", file(t, "a.jpg", nil)}, "empty"},
		"text":          {[]string{"trace", file(t, "a.jpg", []byte("Dear Sir, the spindle is broken."))}, "not a picture"},
		"cut":           {[]string{"trace", file(t, "a.jpg", leg[:len(leg)/2])}, "incomplete"},
		"huge claim":    {[]string{"trace", file(t, "a.png", pngClaiming(100000, 100000))}, "100000"},
		"no board":      {[]string{"trace", photos + "noboard.jpg"}, "--rule"},
		"board alone":   {[]string{"trace", photos + "blank.jpg"}, "no turning"},
		"no job":        {[]string{"sheet", "nowhere.turning", "-o", "x.pdf"}, "no such file"},
		"broken job":    {[]string{"sheet", file(t, "a.turning", []byte("PK\x03\x04 and nothing else")), "-o", "x.pdf"}, "archive"},
		"not a pattern": {[]string{"sheet", file(t, "a.json", []byte("{}")), "-o", "x.pdf"}, "format"},
	} {
		got := call(c.args...)
		if got.code != exitFail {
			t.Errorf("%s: exit %d, want %d", name, got.code, exitFail)
		}
		if !strings.Contains(strings.ToLower(got.stderr), strings.ToLower(c.says)) || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
			t.Errorf("%s: stderr says %q, want one line with %q", name, got.stderr, c.says)
		}
	}
}

func TestWrongUsage(t *testing.T) {
	for _, args := range [][]string{
		{"trace"}, {"trace", "a.jpg", "--axis", "1,2,3"}, {"trace", "a.jpg", "--axis", "5,5,5,5"}, {"trace", "a.jpg", "--rule", "1,2,3,4"},
		{"trace", "a.jpg", "--known", "12"}, {"trace", "a.jpg", "--height", "flying"}, {"trace", "a.jpg", "--length", "-3"},
		{"trace", "a.jpg", "--focal35", "1"}, {"trace", "a.jpg", "--nonsense"}, {"sheet", "a.turning"}, {"sheet", "a.turning", "-o", "a.doc"},
		{"sheet", "a.turning", "-o", "a.pdf", "--paper", "a5"}, {"board", "-o", "boards.txt"}, {"board", "--paper", "a3", "-o", "b.pdf"},
	} {
		if got := call(args...); got.code != exitUsage || got.stderr == "" {
			t.Errorf("%v: exit %d, stderr %q", args, got.code, got.stderr)
		}
	}
}

func TestHelpIsNotAnError(t *testing.T) {
	for _, args := range [][]string{{"--help"}, {"trace", "--help"}} {
		if got := call(args...); got.code != exitDone || !strings.Contains(got.stdout, "Usage") {
			t.Errorf("%v: exit %d, %q", args, got.code, got.stdout)
		}
	}
}

// TestTraceToSheets goes the whole way: photograph, job, every kind of sheet.
func TestTraceToSheets(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	got := call("trace", photos+"leg.jpg", "--height", "level", "--csv", in("leg.csv"), "--trace", in("trace.csv"), "--pattern", in("leg.json"), "--job", in("leg.turning"))
	if got.code != exitDone {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	if !strings.Contains(got.stdout, "square") || !strings.Contains(got.stdout, "overall") {
		t.Errorf("the table reads\n%s", got.stdout)
	}
	for _, name := range []string{"leg.csv", "trace.csv"} {
		data, err := os.ReadFile(in(name))
		if err != nil || !bytes.HasPrefix(data, []byte("x_mm,diameter_mm,u_mm,state\n")) {
			t.Errorf("%s: %v, begins %.40q", name, err, data)
		}
	}
	j, err := job.Open(in("leg.turning"))
	if err != nil || len(j.Photo) == 0 || !j.Traced() {
		t.Fatalf("the job: %v", err)
	}
	for out, magic := range map[string]string{"s.pdf": "%PDF-", "s.svg": "<", "s.dxf": "", "s.png": "\x89PNG"} {
		for _, from := range []string{"leg.turning", "leg.json"} {
			if got := call("sheet", in(from), "-o", in(out), "--show", "all", "--paper", "letter", "--units", "in"); got.code != exitDone {
				t.Errorf("%s from %s: exit %d: %s", out, from, got.code, got.stderr)
				continue
			}
			if data, err := os.ReadFile(in(out)); err != nil || !bytes.HasPrefix(data, []byte(magic)) || len(data) < 500 {
				t.Errorf("%s: %v, %d bytes", out, err, len(data))
			}
		}
	}
}

func TestSeveralPhotosOneOfThemBad(t *testing.T) {
	dir := t.TempDir()
	got := call("trace", photos+"noboard.jpg", photos+"leg.jpg", "--height", "level", "--csv", dir)
	if got.code != exitFail || !strings.Contains(got.stderr, "1 of 2") {
		t.Errorf("exit %d: %s", got.code, got.stderr)
	}
	if _, err := os.Stat(filepath.Join(dir, "leg.csv")); err != nil {
		t.Errorf("the good photograph has no file: %v", err)
	}
}

func TestBoards(t *testing.T) {
	for _, paper := range []string{"a4", "letter"} {
		path := filepath.Join(t.TempDir(), "boards.pdf")
		if got := call("board", "--paper", paper, "-o", path); got.code != exitDone {
			t.Errorf("%s: exit %d: %s", paper, got.code, got.stderr)
		}
		if data, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
			t.Errorf("%s: %v", paper, err)
		}
	}
}

func TestAFailedOutputLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	got := call("board", "-o", filepath.Join(dir, "missing", "boards.pdf"))
	if got.code != exitFail || got.stderr == "" {
		t.Errorf("exit %d: %q", got.code, got.stderr)
	}
	if left, _ := os.ReadDir(dir); len(left) != 0 {
		t.Errorf("%d entries were left behind", len(left))
	}
}

// TestStandardErrorIsOurs runs this program's packages in a locale that window toolkits stumble over.
func TestStandardErrorIsOurs(t *testing.T) {
	for _, locale := range []string{"C.UTF-8", "C", "POSIX", "en_US.UTF-8", ""} {
		cmd := exec.Command(os.Args[0], "-test.run=^TestHelpIsNotAnError$")
		cmd.Env = append(os.Environ(), "LC_ALL=", "LC_MESSAGES=", "LANG="+locale)
		var errs bytes.Buffer
		cmd.Stderr = &errs
		if err := cmd.Run(); err != nil || errs.Len() > 0 {
			t.Errorf("in locale %q: %v, standard error says %q", locale, err, errs.String())
		}
	}
}
