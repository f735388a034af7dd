package profile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// Format and FileVersion head every pattern file.
const (
	Format      = "spindlestick-pattern"
	FileVersion = 1
)

// maxPatternFile bounds what is read as a pattern, bytes: a hundred elements take 30 kB, so this is a thousand
// times any turning, and small enough to hold.
const maxPatternFile = 32 << 20

// derived are numbers that a reader of the file may want and that the element gives by itself. They are
// written for people and other programs, and passed over on reading.
type derived struct {
	Crest       float64 `json:"crest,omitempty"`  // diameter, mm
	Bottom      float64 `json:"bottom,omitempty"` // diameter, mm
	MidX        float64 `json:"midX,omitempty"`   // its station, mm
	Radius      float64 `json:"radius,omitempty"` // of the arc, mm
	AngleAcross float64 `json:"angle,omitempty"`  // included angle of a vee or taper, radians

	Confidence float64  `json:"confidence,omitempty"` // of the kind, 0 to 1
	Second     *Reading `json:"second,omitempty"`     // the next likely reading
}

type fileElement struct {
	Element
	derived
}

type file struct {
	Format   string        `json:"format"`
	Version  int           `json:"version"`
	Length   float64       `json:"length"`
	ULength  float64       `json:"uLength,omitempty"`
	Elements []fileElement `json:"elements"`
	Ties     []Tie         `json:"ties,omitempty"`
}

// WritePattern writes p as a pattern file: JSON, mm and radians.
func WritePattern(w io.Writer, p Pattern) error {
	f := file{Format: Format, Version: FileVersion, Length: p.Length, ULength: p.ULength, Ties: p.Ties}
	for _, e := range p.Elements {
		f.Elements = append(f.Elements, fileElement{e, derive(e)})
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	if err := enc.Encode(f); err != nil {
		return fmt.Errorf("profile: write the pattern: %w", err)
	}
	return nil
}

func derive(e Element) derived {
	var d derived
	if x, mid, ok := e.Mid(); ok {
		d.MidX = x
		switch e.midRole() {
		case Crest:
			d.Crest = mid
		case Bottom:
			d.Bottom = mid
		}
	}
	if s := e.Segments()[0]; e.Kind.Curved() && !s.Straight() {
		d.Radius = s.Radius()
	}
	d.AngleAcross = e.Angle()
	d.Confidence = e.Confidence
	if e.Second.Kind != "" {
		d.Second = &e.Second
	}
	return d
}

// ReadPattern reads a pattern file and checks it. Errors say what is wrong with the file.
func ReadPattern(r io.Reader) (Pattern, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxPatternFile+1))
	if err != nil {
		return Pattern{}, fmt.Errorf("profile: read the pattern: %w", err)
	}
	if len(data) > maxPatternFile {
		return Pattern{}, errors.New("profile: the pattern file is over 32 MB: it is not a pattern")
	}
	var f file
	if err := json.NewDecoder(bytes.NewReader(data)).Decode(&f); err != nil {
		return Pattern{}, fmt.Errorf("profile: the file is not a pattern (JSON): %w", err)
	}
	if f.Format != Format {
		return Pattern{}, fmt.Errorf("profile: the file's format is %q, a pattern file says %q", f.Format, Format)
	}
	if f.Version > FileVersion || f.Version < 1 {
		return Pattern{}, fmt.Errorf("profile: the pattern file has version %d, this program reads version 1 to %d: use a newer program", f.Version, FileVersion)
	}
	p := Pattern{Length: f.Length, ULength: f.ULength, Ties: f.Ties}
	for _, e := range f.Elements {
		p.Elements = append(p.Elements, e.Element)
	}
	return p, p.Validate()
}
