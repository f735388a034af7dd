package sheet

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"spindlestick/profile/whole"
)

// Format is a kind of file.
type Format string

// The formats a document renders to.
const (
	PDF Format = "pdf" // every page
	SVG Format = "svg" // everything on one surface, without joins
	DXF Format = "dxf" // the same
	PNG Format = "png" // every page, one under the other
)

// FormatOf returns the format that a file's name asks for.
func FormatOf(path string) (Format, error) {
	switch f := Format(strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))); f {
	case PDF, SVG, DXF, PNG:
		return f, nil
	}
	return "", fmt.Errorf("sheet: %s: end the file's name in .pdf, .svg, .dxf or .png", path)
}

// Render writes a document. PNG is a preview at previewDPI.
func Render(d Document, f Format, w io.Writer) error {
	switch f {
	case PDF:
		return renderPDF(d, w)
	case SVG:
		return renderSVG(d, w)
	case DXF:
		return renderDXF(d, w)
	case PNG:
		return renderPNG(d, w)
	}
	return fmt.Errorf("sheet: there is no format %q: choose pdf, svg, dxf or png", string(f))
}

// WriteFile writes a document to a file, in the format that its name asks for; the file appears whole or not at all.
func WriteFile(path string, d Document) error {
	f, err := FormatOf(path)
	if err != nil {
		return err
	}
	return whole.WriteFile(path, func(w io.Writer) error { return Render(d, f, w) })
}
