package sheet

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/whole"
)

// Format is a kind of file.
type Format string

// The formats a document renders to.
const (
	PDF  Format = "pdf"  // every page
	SVG  Format = "svg"  // everything on one surface, without joins
	DXF  Format = "dxf"  // the same
	PNG  Format = "png"  // every page, one under the other
	CSV  Format = "csv"  // the stations in figures, a line each
	JSON Format = "json" // the same for programs
)

// Formats returns every format.
func Formats() []Format { return []Format{PDF, SVG, DXF, PNG, CSV, JSON} }

// Endings returns the endings of file names that FormatOf knows, with their dots.
func Endings() []string {
	var out []string
	for _, f := range Formats() {
		out = append(out, "."+string(f))
	}
	return out
}

// FormatOf returns the format that a file's name asks for.
func FormatOf(path string) (Format, error) {
	f := Format(strings.ToLower(strings.TrimPrefix(filepath.Ext(path), ".")))
	if !slices.Contains(Formats(), f) {
		return "", fmt.Errorf("sheet: %s: end the file's name in one of %s", path, strings.Join(Endings(), ", "))
	}
	return f, nil
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
	case CSV:
		return renderCSV(d.List, w)
	case JSON:
		return renderJSON(d.List, w)
	}
	return fmt.Errorf("sheet: there is no format %q: choose one of %s", string(f), strings.Join(Endings(), ", "))
}

// WriteFile writes a document to a file, in the format that its name asks for; the file appears whole or not at all.
func WriteFile(path string, d Document) error {
	f, err := FormatOf(path)
	if err != nil {
		return err
	}
	return whole.WriteFile(path, func(w io.Writer) error { return Render(d, f, w) })
}

// Write makes the sheets of a pattern and writes them to a file, in the format that its name asks for. Figures alone need
// no layout, so they are written whatever the paper holds.
func Write(path string, p profile.Pattern, o Options) error {
	f, err := FormatOf(path)
	if err != nil {
		return err
	}
	if f == CSV || f == JSON {
		o.Show, o.Paper = Table, ""
	}
	d, err := Make(p, o)
	if err != nil {
		return err
	}
	return WriteFile(path, d)
}
