package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// printEntries ask a viewer to print at true size: PrintScaling is a viewer preference since PDF 1.6 (ISO 32000-1,
// 12.2, table 150), and Version lifts the file to that (7.7.2, table 28).
const printEntries = "\n/Version /1.6\n/ViewerPreferences << /PrintScaling /None >>"

// errCatalog would mean that the PDF writer changed how it ends a file.
var errCatalog = errors.New("sheet: the PDF has no catalog where its end should be")

// withoutPrintScaling adds printEntries to the catalog of a PDF whose catalog is its last object. Nothing but the
// cross-reference table lies behind it, so no object moves and only the table's own place changes.
func withoutPrintScaling(pdf []byte) ([]byte, error) {
	marker := []byte("startxref\n")
	tail := bytes.LastIndex(pdf, marker)
	if tail < 0 {
		return nil, errCatalog
	}
	number := pdf[tail+len(marker):]
	end := bytes.IndexByte(number, '\n')
	if end < 0 {
		return nil, errCatalog
	}
	table, err := strconv.Atoi(string(number[:end]))
	if err != nil || table < 0 || table > tail || !bytes.HasPrefix(pdf[table:], []byte("xref\n")) {
		return nil, errCatalog
	}
	kind := []byte("/Type /Catalog")
	at := bytes.LastIndex(pdf[:table], kind)
	if at < 0 || bytes.Count(pdf[at:table], []byte("endobj")) != 1 {
		return nil, errCatalog
	}
	at += len(kind)
	var out bytes.Buffer
	out.Grow(len(pdf) + len(printEntries) + 8)
	out.Write(pdf[:at])
	out.WriteString(printEntries)
	out.Write(pdf[at:tail])
	fmt.Fprintf(&out, "%s%d%s", marker, table+len(printEntries), number[end:])
	return out.Bytes(), nil
}
