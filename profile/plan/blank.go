package plan

import (
	"math"

	"spindlestick/profile"
)

// overSquare is how much the blank's square is over the finished square, mm: about 1/32 in; 1/8 in and more is a
// mistake (woodworkersjournal).
const overSquare = profile.MMPerInch / 32

// Blank is the squared stock that a copy is turned from, mm.
type Blank struct {
	Side    float64    // of its square section, as it goes on the lathe
	Length  float64    // with the waste
	Waste   [2]float64 // at the hook end and the far end
	Square  float64    // the largest finished square; 0 = none
	Round   float64    // the largest finished diameter of the round parts; 0 = none
	Lumber  *Lumber    // the next nominal size; nil = none is large enough
	Metric  float64    // the next sawn thickness; 0 = none is large enough
	Reduced []float64  // finished squares that have to be planed down from the blank's, because something is larger
}

// Lumber is a size of lumber by its name and as it measures, mm.
type Lumber struct {
	Name   string
	Actual float64
}

// NominalSizes are squares of lumber: nominal 2, 3 and 4 in measure 1 1/2, 2 1/2 and 3 1/2 in (American Softwood Lumber
// Standard PS 20).
func NominalSizes() []Lumber {
	return []Lumber{
		{"2 x 2 in", 1.5 * profile.MMPerInch}, {"3 x 3 in", 2.5 * profile.MMPerInch}, {"4 x 4 in", 3.5 * profile.MMPerInch},
	}
}

// MetricSizes are thicknesses in which hardwood is sawn, mm (EN 1313-2, from memory).
func MetricSizes() []float64 { return []float64{20, 27, 32, 40, 50, 60, 65, 70, 80, 100} }

// newBlank chooses the blank: the finished square and 1/32 in, or where nothing is square, the rough cylinder and
// 1/32 in.
func newBlank(p profile.Pattern, o Options) Blank {
	round, square := roundest(p), 0.0
	for _, e := range p.Elements {
		if e.Kind == profile.Square {
			square = math.Max(square, e.Side)
		}
	}
	b := Blank{Square: square, Round: round, Waste: o.Waste, Length: p.Length + o.Waste[0] + o.Waste[1]}
	b.Side = square + overSquare
	if need := round + o.Sanding; square == 0 || need > b.Side {
		b.Side = round + o.Allowance + overSquare
	}
	for _, e := range p.Elements {
		if e.Kind == profile.Square && b.Side-e.Side > overSquare+equal {
			b.Reduced = append(b.Reduced, e.Side)
		}
	}
	b.stock()
	return b
}

// stock finds the next sizes that the blank can be planed from.
func (b *Blank) stock() {
	for _, l := range NominalSizes() {
		if l.Actual >= b.Side-equal {
			b.Lumber = &l
			break
		}
	}
	for _, mm := range MetricSizes() {
		if mm >= b.Side-equal {
			b.Metric = mm
			break
		}
	}
}

// roundest is the largest diameter that is turned, mm: of the round parts and of the shoulders' round ends.
func roundest(p profile.Pattern) float64 {
	largest, _ := p.Largest()
	for _, e := range p.Elements {
		if e.Kind == profile.Shoulder {
			largest = math.Max(largest, math.Min(e.D0, e.D1))
		}
	}
	return largest
}

// equal is how close two figures are for the plan to take them as one, mm: what calipers do not tell apart (0.05 mm
// vernier, DIN 862).
const equal = 0.05

// rounding lets equal figures be equal after sums of them.
const rounding = 1e-9
