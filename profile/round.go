package profile

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Rounding is a step of workshop sizes.
type Rounding string

// The steps a rule or calipers are read to. AsMeasured rounds nothing.
const (
	AsMeasured   Rounding = ""
	SixtyFourths Rounding = "1/64in"
	ThirtySecond Rounding = "1/32in"
	Sixteenths   Rounding = "1/16in"
	Tenths       Rounding = "0.1mm"
	Halves       Rounding = "0.5mm"
	Millimetres  Rounding = "1mm"
)

// Roundings returns every step, the finest of each system first.
func Roundings() []Rounding {
	return []Rounding{SixtyFourths, ThirtySecond, Sixteenths, Tenths, Halves, Millimetres}
}

// ParseRounding reads a rounding: one of Roundings, with or without blanks, or "none".
func ParseRounding(s string) (Rounding, error) {
	word := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(s), " ", ""))
	if word == "" || word == "none" {
		return AsMeasured, nil
	}
	for _, r := range Roundings() {
		if word == string(r) {
			return r, nil
		}
	}
	return AsMeasured, fmt.Errorf("%q is not a rounding: choose none, 1/64in, 1/32in, 1/16in, 0.1mm, 0.5mm or 1mm", s)
}

// Step returns the step, mm; 0 for AsMeasured.
func (r Rounding) Step() float64 {
	if r == AsMeasured {
		return 0
	}
	mm, err := ParseLength(string(r), MM)
	if err != nil {
		return 0 // not one of Roundings
	}
	return mm
}

// Cause says why a number was moved by more than half a step.
type Cause string

// The causes of larger moves.
const (
	ByStep  Cause = ""      // it was not
	ByTie   Cause = "tie"   // what is equal stays equal
	ByRoom  Cause = "room"  // an element would have vanished
	ByShape Cause = "shape" // no arc between the rounded ends reaches the rounded height
)

// Moved is one number that rounding changed, mm.
type Moved struct {
	Element  int
	Spot     Spot // of a diameter; empty = the station where the element starts
	From, To float64
	Cause    Cause
}

// By returns how far the number moved, mm.
func (m Moved) By() float64 { return math.Abs(m.To - m.From) }

// Largest returns the largest move of a report, mm.
func Largest(report []Moved) float64 {
	most := 0.0
	for _, m := range report {
		most = math.Max(most, m.By())
	}
	return most
}

// ErrRound is wrapped by the errors of Rounded.
var ErrRound = errors.New("the pattern cannot be rounded")

// Rounded returns the pattern in workshop sizes, and what changed. Stations, counted from the hook end, and diameters
// become multiples of the step, the overall length stays exactly, and what is equal stays equal. The pattern itself keeps
// what was measured.
func (p Pattern) Rounded(r Rounding) (Pattern, []Moved, error) {
	step := r.Step()
	if step == 0 || len(p.Elements) == 0 {
		return p, nil, nil
	}
	at, ok := p.roundedStations(step)
	if !ok {
		return p, nil, fmt.Errorf("%w to %s: it has too many elements for that: choose a finer step", ErrRound, r)
	}
	q, ok := p.restationed(at)
	if !ok {
		return p, nil, fmt.Errorf("%w to %s: an element would vanish: choose a finer step", ErrRound, r)
	}
	q = q.roundedSizes(p, step)
	q = q.matched().settled(-1)
	for _, t := range p.Ties {
		if p.Holds(t) && !q.Holds(t) {
			return p, nil, fmt.Errorf("%w to %s: a tie (%s) would not hold: choose a finer step, or give the tie up", ErrRound, r, t.Kind)
		}
	}
	if err := q.Validate(); err != nil {
		return p, nil, fmt.Errorf("%w to %s: %w", ErrRound, r, err)
	}
	return q, p.moved(q, step), nil
}

// matched copies the shape of the first of tied elements to its twins, so that they stay equal to the last digit.
func (p Pattern) matched() Pattern {
	q := p.Clone()
	done := map[int]bool{}
	for i := range q.Elements {
		if done[i] {
			continue
		}
		model := q.Elements[i]
		for _, t := range p.twins(i) {
			shape := model
			if t.mirrored {
				shape = model.mirrored(model.X0 + model.X1)
			}
			q.Elements[t.index] = shape.onto(q.Elements[t.index])
			done[t.index] = true
		}
	}
	return q
}

// moved reports every number that differs between p and its rounding q.
func (p Pattern) moved(q Pattern, step float64) []Moved {
	var out []Moved
	note := func(m Moved, why Cause) {
		if m.By() < tieTolerance {
			return
		}
		if m.By() > step/2+tieTolerance {
			m.Cause = why
		}
		out = append(out, m)
	}
	class, _ := p.lengthClasses()
	tied := tiedClasses(class)
	for i, e := range p.Elements {
		f := q.Elements[i]
		why := ByRoom
		if tied[class[i]] || i > 0 && tied[class[i-1]] {
			why = ByTie
		}
		note(Moved{Element: i, From: e.X0, To: f.X0}, why)
		for _, s := range []Spot{NearEnd, Middle, FarEnd} {
			l := Place{i, s}
			a, there := p.Size(l)
			b, still := q.Size(l)
			own := !e.corner(s) && (s != Middle || e.peaks()) && (s != FarEnd || !e.Kind.level())
			if there && still && own {
				note(Moved{Element: i, Spot: s, From: a, To: b}, p.whySize(l, f, step))
			}
		}
	}
	return out
}

// whySize says why the diameter at a place of element f, as rounded, moved by more than half a step.
func (p Pattern) whySize(l Place, f Element, step float64) Cause {
	if s := f.first(); l.Spot == Middle && f.Kind.Curved() && math.Abs(s.Sagitta) > s.most()-tieTolerance {
		return ByShape
	}
	if len(p.equals(l)) > 1 {
		return ByTie
	}
	return ByRoom
}
