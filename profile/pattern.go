package profile

import (
	"errors"
	"fmt"
	"math"
)

// Pattern is a turning as its maker would describe it: elements in order from the hook end, without gaps.
type Pattern struct {
	Length   float64   `json:"length"` // overall, mm
	ULength  float64   `json:"uLength,omitempty"`
	Elements []Element `json:"elements"`
	Ties     []Tie     `json:"ties,omitempty"` // what the user wants kept equal
}

// joinTolerance is how far neighbouring elements' stations may differ and still be one station, mm: far under
// a turner's scribed line (0.1 mm), far over what rounding in a file leaves.
const joinTolerance = 1e-6

// maxElements bounds the elements of a pattern: the richest turnings have under a hundred, and what looks for likenesses
// among them takes time with the cube of their number.
const maxElements = 500

// ErrPattern is wrapped by every error that Validate returns.
var ErrPattern = errors.New("profile: the pattern is not sound")

// Validate checks that elements follow one another without gaps from 0 to Length, that every number is
// finite, and that every diameter is positive (an end that comes to a point may be zero).
func (p Pattern) Validate() error {
	if !(p.Length > 0) || math.IsInf(p.Length, 0) {
		return fmt.Errorf("%w: the overall length is %v mm, it must be above zero", ErrPattern, p.Length)
	}
	if len(p.Elements) == 0 {
		return fmt.Errorf("%w: it has no elements", ErrPattern)
	}
	if len(p.Elements) > maxElements {
		return fmt.Errorf("%w: it has %d elements, no turning has over %d", ErrPattern, len(p.Elements), maxElements)
	}
	x := 0.0
	for i, e := range p.Elements {
		if err := e.validate(); err != nil {
			return fmt.Errorf("%w: element %d (%s): %v", ErrPattern, i+1, e.Kind, err)
		}
		if math.Abs(e.X0-x) > joinTolerance {
			return fmt.Errorf("%w: element %d starts at %.3f mm, the one before ends at %.3f mm", ErrPattern, i+1, e.X0, x)
		}
		x = e.X1
	}
	if math.Abs(x-p.Length) > joinTolerance {
		return fmt.Errorf("%w: the elements end at %.3f mm, the length is %.3f mm", ErrPattern, x, p.Length)
	}
	for _, t := range p.Ties {
		if err := t.validate(len(p.Elements)); err != nil {
			return fmt.Errorf("%w: %v", ErrPattern, err)
		}
	}
	return nil
}

func (e Element) validate() error {
	if !e.Kind.Known() {
		return errors.New("unknown kind")
	}
	for _, v := range []float64{e.X0, e.X1, e.D0, e.D1, e.Sagitta, e.InnerX, e.InnerD, e.Side, e.Roll} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return errors.New("a number is not finite")
		}
	}
	if e.X1 <= e.X0 {
		return fmt.Errorf("it ends (%.3f mm) before it starts (%.3f mm)", e.X1, e.X0)
	}
	if e.D0 < 0 || e.D1 < 0 || e.D0+e.D1 == 0 {
		return errors.New("a diameter is not above zero")
	}
	if e.Kind.Inner() && (e.InnerX <= e.X0 || e.InnerX >= e.X1 || e.InnerD <= 0) {
		return errors.New("its inner point is not between its ends")
	}
	if e.Kind == Shoulder && e.Style == Reversed && (e.InnerX <= e.X0 || e.InnerX >= e.X1) {
		return errors.New("its inflection is not between its ends")
	}
	return nil
}

// Index returns the element that holds station x; the last one holds its own end. -1 outside.
func (p Pattern) Index(x float64) int {
	for i, e := range p.Elements {
		if x >= e.X0 && (x < e.X1 || i == len(p.Elements)-1 && x <= e.X1) {
			return i
		}
	}
	return -1
}

// DiameterAt returns the diameter at station x, mm, and false outside the piece. At a step the element
// that starts there counts.
func (p Pattern) DiameterAt(x float64) (float64, bool) {
	i := p.Index(x)
	if i < 0 {
		return 0, false
	}
	return p.Elements[i].At(x), true
}

// Largest returns the largest diameter of the round parts and the largest side of the squares, mm.
func (p Pattern) Largest() (round, side float64) {
	for _, e := range p.Elements {
		if e.Kind == Square {
			side = math.Max(side, e.Side)
			continue
		}
		if e.Kind == Shoulder {
			continue
		}
		round = math.Max(round, math.Max(e.D0, e.D1))
		if _, d, ok := e.Mid(); ok {
			round = math.Max(round, d)
		}
	}
	return round, side
}

// Clone returns a pattern that shares nothing with p.
func (p Pattern) Clone() Pattern {
	p.Elements = append([]Element(nil), p.Elements...)
	p.Ties = append([]Tie(nil), p.Ties...) // a tie's own lists are never written to
	return p
}
