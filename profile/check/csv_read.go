package check

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// ErrReadings is wrapped by every error about a file of readings.
var ErrReadings = errors.New("the readings cannot be used")

// Bounds of what is read of a file of readings: a stair has some hundred balusters, a baluster some tens of places.
const (
	maxReadingsFile = 8 << 20 // bytes
	mostCopies      = 1000
)

// ReadCSV reads caliper readings as WriteCSV lays them out: the columns x_mm and copy_mm, with copy where there are
// several and side where there are steps; others are passed over, and lines without a reading too. Columns may be divided by
// commas, semicolons or tabs; with the last two a number may have a decimal comma. name is of a copy that has none.
func ReadCSV(r io.Reader, name string) ([]Piece, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxReadingsFile+1))
	if err != nil {
		return nil, fmt.Errorf("check: %w: %w", ErrReadings, err)
	}
	if len(text) > maxReadingsFile {
		return nil, fmt.Errorf("check: %w: the file is over %d MB", ErrReadings, maxReadingsFile>>20)
	}
	t, err := newReadingsTable(string(text))
	if err != nil {
		return nil, fmt.Errorf("check: %w: %w", ErrReadings, err)
	}
	s := readingsSet{name: name, index: map[string]int{}}
	for {
		line, err := t.csv.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			err = s.take(t, line)
		}
		if err != nil {
			return nil, fmt.Errorf("check: %w: %w", ErrReadings, t.where(err))
		}
	}
	if len(s.copies) == 0 {
		return nil, fmt.Errorf("check: %w: it has no lines under its head", ErrReadings)
	}
	return s.copies, nil
}

// readingsTable is a file with what its head says.
type readingsTable struct {
	csv    *csv.Reader
	column map[string]int
	comma  bool // numbers may have a decimal comma
	width  int
}

// newReadingsTable reads the head. The first of tab, semicolon and comma that it has divides the columns.
func newReadingsTable(text string) (readingsTable, error) {
	text = strings.TrimPrefix(text, "\ufeff") // spreadsheets mark their text so
	head, _, _ := strings.Cut(text, "\n")
	t := readingsTable{csv: csv.NewReader(bufio.NewReader(strings.NewReader(text))), column: map[string]int{}}
	t.csv.FieldsPerRecord = -1
	for _, c := range []rune{'\t', ';'} {
		if strings.ContainsRune(head, c) {
			t.csv.Comma, t.comma = c, true
			break
		}
	}
	names, err := t.csv.Read()
	if err != nil {
		return t, fmt.Errorf("it has no head: write %s in its first line", strings.Join(csvHead(), ","))
	}
	for i, n := range names {
		n = strings.ToLower(strings.TrimSpace(n))
		if _, twice := t.column[n]; twice && n != "" {
			return t, fmt.Errorf("its head names %q twice", n)
		}
		t.column[n] = i
	}
	t.width = len(names)
	for _, n := range []string{"x_mm", "copy_mm"} {
		if _, ok := t.column[n]; !ok {
			return t, fmt.Errorf("its head has no column %s: take the form that the check writes", n)
		}
	}
	return t, nil
}

// where says in which line something is wrong.
func (t readingsTable) where(err error) error {
	if bad := new(csv.ParseError); errors.As(err, &bad) {
		return fmt.Errorf("line %d: %w", bad.Line, bad.Err)
	}
	line, _ := t.csv.FieldPos(0)
	return fmt.Errorf("line %d: %w", line, err)
}

// cell is a line's entry in a column; empty where the file has no such column.
func (t readingsTable) cell(line []string, name string) string {
	i, ok := t.column[name]
	if !ok || i >= len(line) {
		return ""
	}
	return strings.TrimSpace(line[i])
}

// number reads a cell in mm.
func (t readingsTable) number(line []string, name string) (float64, error) {
	text := t.cell(line, name)
	plain := text
	if t.comma {
		plain = strings.Replace(text, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(plain, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(plain, "xXpP_") {
		return 0, fmt.Errorf("%s is %q, write mm in figures", name, text)
	}
	return v, nil
}

// readingsSet gathers the copies of a file.
type readingsSet struct {
	name   string
	copies []Piece
	index  map[string]int
}

func (s *readingsSet) take(t readingsTable, line []string) error {
	if len(line) > t.width {
		return fmt.Errorf("it has %d columns, the head %d: a comma in a number divides it, write a point", len(line), t.width)
	}
	if strings.Join(line, "") == "" {
		return nil
	}
	p, err := s.copy(t.cell(line, "copy"))
	if err != nil || t.cell(line, "copy_mm") == "" {
		return err
	}
	var r Reading
	if r.X, err = t.number(line, "x_mm"); err != nil {
		return err
	}
	if r.D, err = t.number(line, "copy_mm"); err != nil {
		return err
	}
	r.Side = Side(strings.ToLower(t.cell(line, "side")))
	if err := r.validate(); err != nil {
		return err
	}
	for _, other := range p.Readings {
		if other.X == r.X && other.Side == r.Side {
			return fmt.Errorf("%s has a second reading at %v mm", p.name(), r.X)
		}
	}
	p.Readings = append(p.Readings, r)
	return nil
}

// copy is the copy of a name, new where there is none yet.
func (s *readingsSet) copy(name string) (*Piece, error) {
	if name == "" {
		name = s.name
	}
	i, ok := s.index[name]
	if !ok {
		if len(s.copies) == mostCopies {
			return nil, fmt.Errorf("there are over %d copies", mostCopies)
		}
		i = len(s.copies)
		s.index[name] = i
		s.copies = append(s.copies, Piece{Name: name, Gauged: true})
	}
	return &s.copies[i], nil
}

// Accept says what is wrong with a copy's readings as readings of this original: places that it does not have, and figures
// that cannot be meant.
func Accept(original, made Piece, o Options) error {
	gauges, err := Gauges(original, o)
	if err != nil {
		return err
	}
	taken, used := assign(gauges, made.Readings), map[int]bool{}
	for i, k := range taken {
		if k < 0 {
			continue
		}
		used[k] = true
		if err := gauges[i].Accept(made.Readings[k].D); err != nil {
			return fmt.Errorf("check: %w: %s at %v mm: %w", ErrReadings, made.name(), made.Readings[k].X, err)
		}
	}
	for k, r := range made.Readings {
		if !used[k] {
			return fmt.Errorf("check: %w: %s has a reading at %v mm%s, where the original has no station to measure: take the places from the form that the check writes",
				ErrReadings, made.name(), r.X, sideWords(r.Side))
		}
	}
	return nil
}

func sideWords(s Side) string {
	if s == OneSize {
		return ""
	}
	return ", " + string(s)
}
