package check

import (
	"errors"
	"fmt"
	"math"

	"spindlestick/profile"
)

// Piece is what is known of one turning: its pattern, its measured trace, or both. Uncertainties that are zero are taken
// as none: a pattern from a drawing is exact.
type Piece struct {
	Name    string
	Pattern profile.Pattern // may have no elements
	Trace   profile.Trace   // may have no samples

	// Gauged says that the piece is a copy read with calipers: Readings, of which there may be none yet, and neither
	// pattern nor trace.
	Gauged   bool
	Readings []Reading

	// Weight counts the piece among several originals; 0 = 1. Drop leaves it out, so that it is shown but not counted.
	Weight float64
	Drop   bool
}

// ErrPiece is wrapped by errors about a piece that cannot be compared.
var ErrPiece = errors.New("the piece cannot be compared")

func (p Piece) validate() error {
	switch {
	case p.Gauged:
		for _, r := range p.Readings {
			if err := r.validate(); err != nil {
				return fmt.Errorf("check: %s: %w: %w", p.name(), ErrPiece, err)
			}
		}
	case p.patterned():
		if err := p.Pattern.Validate(); err != nil {
			return fmt.Errorf("check: %s: %w: %w", p.name(), ErrPiece, err)
		}
	case len(p.Trace.Samples) < 2:
		return fmt.Errorf("check: %s: %w: it has neither a pattern nor a trace, trace its photograph first", p.name(), ErrPiece)
	}
	if !(p.Weight >= 0) || math.IsInf(p.Weight, 0) {
		return fmt.Errorf("check: %s: %w: its weight is %v, give zero or more", p.name(), ErrPiece, p.Weight)
	}
	return nil
}

func (p Piece) name() string {
	if p.Name == "" {
		return "a piece without a name"
	}
	return p.Name
}

func (p Piece) patterned() bool { return len(p.Pattern.Elements) > 0 }
func (p Piece) traced() bool    { return len(p.Trace.Samples) > 1 }

// length is the piece's overall length, mm.
func (p Piece) length() float64 {
	if p.patterned() {
		return p.Pattern.Length
	}
	return math.Max(p.Trace.Length, p.Trace.Samples[len(p.Trace.Samples)-1].X)
}

// flat reports whether the pattern has a flat at x: there an outline shows the square's turn, not its side.
func (p Piece) flat(x float64) bool {
	i := p.Pattern.Index(x)
	if i < 0 {
		return false
	}
	k := p.Pattern.Elements[i].Kind
	return k == profile.Square || k == profile.Shoulder
}

// reading is a diameter with its expanded uncertainty, mm; ok is false where the piece has none.
type reading struct {
	d, u float64
	seen bool // it was measured there, or is the drawing's
	ok   bool
}

// drawn reads the pattern at x, and the trace where there is no pattern.
func (p Piece) drawn(x float64) reading {
	i := p.Pattern.Index(x)
	if i < 0 {
		if p.patterned() {
			return reading{}
		}
		return p.measured(x)
	}
	e := p.Pattern.Elements[i]
	return reading{d: e.At(x), u: boundAt(e, x), seen: stated(e.State), ok: true}
}

// measured reads the trace at x, and the pattern where there is no trace or the piece is square.
func (p Piece) measured(x float64) reading {
	if !p.traced() || p.flat(x) {
		if p.patterned() {
			return p.drawn(x)
		}
		return reading{}
	}
	s, ok := p.Trace.At(x)
	return reading{d: 2 * s.R, u: s.U, seen: s.State == profile.Visible || s.State == "", ok: ok}
}

// stated reports whether a pattern's element in this state says what the piece is: a hidden or damaged one does not.
func stated(s profile.State) bool {
	return s == "" || s == profile.Visible || s == profile.Inferred
}

// boundAt is the expanded uncertainty of the element's diameter at x, mm, between those of its ends and its middle.
func boundAt(e profile.Element, x float64) float64 {
	lo, hi, x0, x1 := e.U.D0, e.U.D1, e.X0, e.X1
	if m, _, ok := e.Mid(); ok {
		if x < m {
			hi, x1 = e.U.Mid, m
		} else {
			lo, x0 = e.U.Mid, m
		}
	}
	if x1 <= x0 {
		return math.Max(lo, hi)
	}
	w := math.Max(0, math.Min(1, (x-x0)/(x1-x0)))
	return lo + w*(hi-lo)
}

// placed is the expanded uncertainty of a station at x, mm: between those of the pattern's edges. A bare trace does not say
// how well its places are known: its length's uncertainty stands for all of them.
func (p Piece) placed(x float64) float64 {
	if i := p.Pattern.Index(x); i >= 0 {
		e := p.Pattern.Elements[i]
		return e.U.X0 + (e.U.X1-e.U.X0)*(x-e.X0)/e.Length()
	}
	if !p.patterned() {
		return p.Trace.ULength
	}
	return p.Pattern.ULength
}
