package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"testing"

	"spindlestick/profile"
)

func aPDF(t *testing.T) []byte {
	t.Helper()
	p := profile.Pattern{Length: 400, Elements: []profile.Element{{Kind: profile.Cylinder, X1: 400, D0: 20, D1: 20}}}
	d, err := Make(p, Options{Show: All})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := Render(d, PDF, &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestPDFAsksForTrueSize: the catalog that the trailer names holds the viewer preference (ISO 32000-1, table 150).
func TestPDFAsksForTrueSize(t *testing.T) {
	pdf := aPDF(t)
	root := regexp.MustCompile(`/Root (\d+) 0 R`).FindSubmatch(pdf)
	if root == nil {
		t.Fatal("the trailer names no catalog")
	}
	catalog := regexp.MustCompile(fmt.Sprintf(`(?s)\n%s 0 obj\n(.*?)endobj`, root[1])).Find(pdf)
	for _, want := range []string{"/Type /Catalog", "/ViewerPreferences << /PrintScaling /None >>", "/Version /1.6"} {
		if !bytes.Contains(catalog, []byte(want)) {
			t.Errorf("the catalog lacks %s: %s", want, catalog)
		}
	}
}

// TestPDFCrossReferences: every offset of the cross-reference table, and the table's own, still points at what it
// names (ISO 32000-1, 7.5.4 and 7.5.5).
func TestPDFCrossReferences(t *testing.T) {
	pdf := aPDF(t)
	start := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindSubmatch(pdf)
	if start == nil {
		t.Fatal("the file does not end in startxref")
	}
	at, _ := strconv.Atoi(string(start[1]))
	head := regexp.MustCompile(`^xref\n0 (\d+)\n`).FindSubmatch(pdf[at:])
	if head == nil {
		t.Fatalf("there is no table at %d", at)
	}
	n, _ := strconv.Atoi(string(head[1]))
	entries := pdf[at+len(head[0]):]
	for i := 1; i < n; i++ {
		offset, err := strconv.Atoi(string(entries[20*i : 20*i+10]))
		if err != nil {
			t.Fatal(err)
		}
		if want := fmt.Sprintf("%d 0 obj\n", i); !bytes.HasPrefix(pdf[offset:], []byte(want)) {
			t.Errorf("object %d is not at %d", i, offset)
		}
	}
}

func TestCatalogIsNotGuessed(t *testing.T) {
	for _, bad := range []string{"", "startxref\n", "startxref\n5\n%%EOF", "startxref\nx\n", "xref\nstartxref\n0\n", "startxref\n-1\n"} {
		if _, err := withoutPrintScaling([]byte(bad)); !errors.Is(err, errCatalog) {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func TestPDFRefusesWhatNoPageCanHold(t *testing.T) {
	p := profile.Pattern{Length: 6000, Elements: []profile.Element{{Kind: profile.Cylinder, X1: 6000, D0: 60, D1: 60}}}
	d, err := Make(p, Options{Paper: Roll})
	if err != nil {
		t.Fatal(err)
	}
	if err := Render(d, PDF, &bytes.Buffer{}); err == nil {
		t.Error("a page of 6 m was written; PDF allows 5.08 m (ISO 32000-1, Annex C.2)")
	}
	if err := Render(d, SVG, &bytes.Buffer{}); err != nil {
		t.Errorf("SVG: %v", err)
	}
}
