package sheet_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile/sheet"
)

func rendered(t interface{ Fatal(...any) }, d sheet.Document, f sheet.Format) []byte {
	var b bytes.Buffer
	if err := sheet.Render(d, f, &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestAnyWordsRender: whatever is typed as a title or a note, the files stay well-formed: SVG as XML, DXF as pairs of
// a code and a value (DXF reference: group codes).
func TestAnyWordsRender(t *testing.T) {
	check(t, func(t *rapid.T) {
		words := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"a\nb", "]]>", "\\U+0041", "(", "\\", "\xff\xfe", "%%EOF", "0\n  0\nEOF"}))
		d, err := sheet.Make(finial(), sheet.Options{Title: words.Draw(t, "title"), Date: words.Draw(t, "date"), Notes: []string{words.Draw(t, "note")}})
		if err != nil {
			t.Fatal(err)
		}
		rendered(t, d, sheet.PDF)
		x := xml.NewDecoder(bytes.NewReader(rendered(t, d, sheet.SVG)))
		for {
			_, err := x.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		lines := strings.Split(strings.TrimRight(string(rendered(t, d, sheet.DXF)), "\n"), "\n")
		if len(lines)%2 != 0 || strings.TrimSpace(lines[len(lines)-1]) != "EOF" {
			t.Fatalf("%d lines, the last %q", len(lines), lines[len(lines)-1])
		}
		for i := 0; i < len(lines); i += 2 {
			if strings.Trim(lines[i], " 0123456789") != "" {
				t.Fatalf("line %d is %q, not a group code", i+1, lines[i])
			}
		}
	})
}

// TestRenderAtTheSameTime: documents may be rendered from several goroutines; run with -race this finds what they share.
func TestRenderAtTheSameTime(t *testing.T) {
	d := mustMake(t, finial(), sheet.Options{Show: sheet.Drawing})
	for _, f := range sheet.Formats() {
		want := rendered(t, d, f)
		got := make([][]byte, 4)
		var wait sync.WaitGroup
		for i := range got {
			wait.Go(func() { got[i] = rendered(t, d, f) })
		}
		wait.Wait()
		for _, g := range got {
			if !bytes.Equal(g, want) {
				t.Errorf("%s comes out differently when several are made at once", f)
			}
		}
	}
}

func TestWriteFile(t *testing.T) {
	d := mustMake(t, finial(), sheet.Options{})
	path := filepath.Join(t.TempDir(), "stick.svg")
	if err := sheet.WriteFile(path, d); err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, rendered(t, d, sheet.SVG)) {
		t.Errorf("the file does not hold what was rendered (%v)", err)
	}
	if err := sheet.WriteFile(filepath.Join(t.TempDir(), "none", "stick.pdf"), d); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", err)
	}
}

// failing takes a few bytes and then no more.
type failing struct{ left int }

var errFull = errors.New("the disk is full")

func (f *failing) Write(b []byte) (int, error) {
	if len(b) > f.left {
		return f.left, errFull
	}
	f.left -= len(b)
	return len(b), nil
}

func TestRenderReportsAFullDisk(t *testing.T) {
	d := mustMake(t, finial(), sheet.Options{})
	for _, f := range sheet.Formats() {
		if err := sheet.Render(d, f, &failing{100}); !errors.Is(err, errFull) {
			t.Errorf("%s: %v", f, err)
		}
	}
}

func BenchmarkMake(b *testing.B) {
	for b.Loop() {
		mustMake(b, baluster(), sheet.Options{Show: sheet.All})
	}
}

func BenchmarkPDF(b *testing.B) {
	d := mustMake(b, baluster(), sheet.Options{Show: sheet.All})
	for b.Loop() {
		if err := sheet.Render(d, sheet.PDF, io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNG(b *testing.B) {
	d := mustMake(b, baluster(), sheet.Options{})
	for b.Loop() {
		if err := sheet.Render(d, sheet.PNG, io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
