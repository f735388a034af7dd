package check

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"

	"spindlestick/profile"
)

// Set is the copies of one original as they are kept with it, and how they are judged.
type Set struct {
	Options
	Exaggeration float64 // of deviations in the overlay; 0 = the usual
	Copies       []Piece
}

// Empty reports whether there is nothing to keep.
func (s Set) Empty() bool {
	return len(s.Copies) == 0 && s.Exaggeration == 0 && s.Align == "" && s.Station == 0 && s.Tolerance == Tolerance{} && len(s.Exceptions) == 0 && s.Calipers == 0
}

// Reports compares every copy of the set with the original, in order. It fails with the first that cannot be compared.
func (s Set) Reports(original Piece) ([]Report, error) {
	var out []Report
	for _, c := range s.Copies {
		r, err := Compare(original, c, s.Options)
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, nil
}

const (
	setFormat  = "spindlestick-copies"
	setVersion = 1
)

// ErrSet is wrapped by every error about a kept set of copies.
var ErrSet = errors.New("the copies cannot be used")

// fileSet is the set's file: JSON, mm.
type fileSet struct {
	Format       string          `json:"format"`
	Version      int             `json:"version"`
	Align        Align           `json:"align,omitempty"`
	Station      float64         `json:"station,omitempty"`
	Tolerance    Tolerance       `json:"tolerance,omitzero"`
	Exceptions   []fileException `json:"exceptions,omitempty"`
	Calipers     float64         `json:"calipers,omitempty"`
	Exaggeration float64         `json:"exaggeration,omitempty"`
	Copies       []filePiece     `json:"copies"`
}

type fileException struct {
	X float64 `json:"x"`
	Tolerance
}

// filePiece has readings, or a pattern and perhaps a trace.
type filePiece struct {
	Name     string          `json:"name,omitempty"`
	Gauged   bool            `json:"calipers,omitempty"`
	Readings []Reading       `json:"readings,omitempty"`
	Pattern  json.RawMessage `json:"pattern,omitempty"` // a pattern file
	Trace    *profile.Trace  `json:"trace,omitempty"`
}

// WriteSet writes a set of copies.
func WriteSet(w io.Writer, s Set) error {
	f := fileSet{
		Format: setFormat, Version: setVersion, Align: s.Align, Station: s.Station, Tolerance: s.Tolerance, Calipers: s.Calipers,
		Exaggeration: s.Exaggeration, Copies: []filePiece{},
	}
	for _, e := range s.Exceptions {
		f.Exceptions = append(f.Exceptions, fileException(e))
	}
	for _, c := range s.Copies {
		p := filePiece{Name: c.Name, Gauged: c.Gauged, Readings: c.Readings}
		if c.patterned() {
			var b bytes.Buffer
			if err := profile.WritePattern(&b, c.Pattern); err != nil {
				return fmt.Errorf("check: keep %s: %w", c.name(), err)
			}
			p.Pattern = b.Bytes()
		}
		if c.traced() {
			p.Trace = &c.Trace
		}
		f.Copies = append(f.Copies, p)
	}
	return json.NewEncoder(w).Encode(f)
}

// maxSet bounds what is read of a set, bytes: a copy's trace of two metres takes under two megabytes.
const maxSet = 256 << 20

// ReadSet reads what WriteSet wrote.
func ReadSet(r io.Reader) (Set, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxSet+1))
	if err != nil {
		return Set{}, fmt.Errorf("check: %w: %w", ErrSet, err)
	}
	if len(data) > maxSet {
		return Set{}, fmt.Errorf("check: %w: there are over %d MB of them", ErrSet, maxSet>>20)
	}
	var f fileSet
	if err := json.Unmarshal(data, &f); err != nil {
		return Set{}, fmt.Errorf("check: %w: they do not read: %w", ErrSet, err)
	}
	if f.Format != setFormat || f.Version < 1 || f.Version > setVersion {
		return Set{}, fmt.Errorf("check: %w: they say format %q version %d, this program reads %q version %d: use a newer program", ErrSet, f.Format, f.Version, setFormat, setVersion)
	}
	s := Set{Exaggeration: f.Exaggeration}
	s.Options = Options{Align: f.Align, Station: f.Station, Tolerance: f.Tolerance, Calipers: f.Calipers}
	for _, e := range f.Exceptions {
		s.Exceptions = append(s.Exceptions, Exception(e))
	}
	if len(f.Copies) > mostCopies {
		return Set{}, fmt.Errorf("check: %w: there are over %d", ErrSet, mostCopies)
	}
	for _, c := range f.Copies {
		p, err := c.piece()
		if err != nil {
			return Set{}, fmt.Errorf("check: %w: %w", ErrSet, err)
		}
		s.Copies = append(s.Copies, p)
	}
	return s, s.validate()
}

func (c filePiece) piece() (Piece, error) {
	p := Piece{Name: c.Name, Gauged: c.Gauged, Readings: c.Readings}
	if len(c.Pattern) > 0 {
		read, err := profile.ReadPattern(bytes.NewReader(c.Pattern))
		if err != nil {
			return p, err
		}
		p.Pattern = read
	}
	if c.Trace != nil {
		p.Trace = *c.Trace
	}
	if err := ordered(p.Trace); err != nil {
		return p, fmt.Errorf("%s: %w", p.name(), err)
	}
	return p, p.validate()
}

// ordered reports what is wrong with a trace from outside.
func ordered(t profile.Trace) error {
	last := 0.0
	for _, s := range t.Samples {
		if s.X < last || s.X > most || s.R < 0 || s.R > most || s.U < 0 {
			return errors.New("its trace is damaged")
		}
		last = s.X
	}
	if t.Length < 0 || t.Length > most || t.ULength < 0 {
		return errors.New("its trace is damaged")
	}
	return nil
}

// validate looks at the figures by which the copies are judged; 0 stands for the usual ones.
func (s Set) validate() error {
	for _, v := range []struct {
		what string
		mm   float64
	}{
		{"a tolerance of diameters", s.Tolerance.Diameter}, {"a tolerance of places", s.Tolerance.Station}, {"the calipers' uncertainty", s.Calipers},
		{"a station to align by", s.Station}, {"an exaggeration", s.Exaggeration},
	} {
		if !(v.mm >= 0) || math.IsInf(v.mm, 0) || v.mm > most {
			return fmt.Errorf("check: %w: %s of %v", ErrSet, v.what, v.mm)
		}
	}
	return nil
}
