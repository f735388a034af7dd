package plan

import (
	"math"

	"spindlestick/profile"
)

// Speed is a range of the lathe, rpm.
type Speed struct{ Low, High float64 }

// The product of diameter in inches and speed in rpm that work of that diameter runs at (rule of thumb of the trade).
const (
	slowProduct = 6000.0
	fastProduct = 9000.0
)

// SpeedFor returns the range for work that swings a diameter of d mm.
func SpeedFor(d float64) Speed {
	inches := d / profile.MMPerInch
	return Speed{slowProduct / inches, fastProduct / inches}
}

// heldTo returns the range that a lathe with a top speed can run; 0 = not said.
func (s Speed) heldTo(top float64) Speed {
	if top <= 0 {
		return s
	}
	return Speed{math.Min(s.Low, top), math.Min(s.High, top)}
}

// usualTop is the speed above which few lathes for spindles run, rpm (common practice, no source).
const usualTop = 4000.0

// Speeds are the lathe's speeds for the work.
type Speeds struct {
	// Swing is what turns while roughing, mm: the diagonal of the blank.
	Swing float64
	// Roughing is the upper bound while the work is out of round; start far under it.
	Roughing float64
	// Round is what turns while finishing, mm: the largest diameter, or the diagonal of a square that stays.
	Round     float64
	Finishing Speed
}

func speeds(p profile.Pattern, b Blank, o Options) Speeds {
	s := Speeds{Swing: b.Side * math.Sqrt2, Round: roundest(p)}
	for _, e := range p.Elements {
		if e.Kind == profile.Square {
			s.Round = math.Max(s.Round, e.Side*math.Sqrt2)
		}
	}
	s.Roughing = SpeedFor(s.Swing).heldTo(o.TopSpeed).Low
	s.Finishing = SpeedFor(s.Round).heldTo(o.TopSpeed)
	return s
}

// Steady says whether slender work wants support.
type Steady string

// What a slenderness asks for.
const (
	Stiff  Steady = "stiff"
	Watch  Steady = "watch"
	Advise Steady = "steady rest"
)

// A piece whips when its length passes so many times its smallest diameter: a steady rest from 11 on
// (woodworkersjournal), a note from 9 (common practice, no source).
const (
	watchFrom  = 9.0
	adviseFrom = 11.0
)

// Slenderness is length over smallest diameter.
type Slenderness struct {
	Ratio    float64
	Smallest Size
	Steady   Steady
	// Rest is a station near mid length where a steady rest can run: round, and level or nearly; -1 = none is.
	Rest float64
}

func slenderness(p profile.Pattern) Slenderness {
	s := Slenderness{Smallest: smallest(p), Rest: restStation(p)}
	s.Ratio = p.Length / s.Smallest.Diameter
	switch {
	case s.Ratio > adviseFrom:
		s.Steady = Advise
	case s.Ratio >= watchFrom:
		s.Steady = Watch
	default:
		s.Steady = Stiff
	}
	return s
}

// smallest is the thinnest place of a piece; of a square its side. An end that comes to a point is looked at a little
// inside it: a point has no stiffness to lose.
func smallest(p profile.Pattern) Size { return smallestBetween(p, 0, p.Length) }

// restStation is the middle of the cylinder, taper or swell that lies nearest to mid length, or mid length itself where
// one of them runs through it.
func restStation(p profile.Pattern) float64 {
	middle, best := p.Length/2, -1.0
	for _, e := range p.Elements {
		if stepOf(e.Kind) != stepTapers || e.Length() < shortestCheck {
			continue
		}
		// A rest needs wood on both sides of its rollers.
		x := math.Max(e.X0+shortestCheck/2, math.Min(e.X1-shortestCheck/2, middle))
		if best < 0 || math.Abs(x-middle) < math.Abs(best-middle) {
			best = x
		}
	}
	return best
}
