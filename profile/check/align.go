package check

import (
	"errors"
	"fmt"
	"math"
)

// Align says how a copy is laid on its original.
type Align string

// The ways to lay a copy on its original.
const (
	HookEnd   Align = "hook end"
	BestFit   Align = "best fit" // moved along the axis to where most of it agrees
	AtStation Align = "station"  // so that one station, named on the original, coincides
)

// ErrAlign is wrapped by errors about an alignment that cannot be made.
var ErrAlign = errors.New("the pieces cannot be aligned")

// aligned is a copy laid on its original: station x of the original lies at x + shift of the copy.
type aligned struct {
	shift  float64
	ushift float64 // expanded; of the station that was made to coincide
	words  string
}

// nearStation is how far a named station may lie from one of the original's, mm.
const nearStation = 2.0

func align(o, c *side, pairs []pair, opt Options) (aligned, error) {
	switch opt.Align {
	case "", HookEnd:
		return aligned{words: string(HookEnd)}, nil
	case BestFit:
		s := bestShift(o.piece, c.piece)
		return aligned{shift: s, words: fmt.Sprintf("best fit, the copy moved by %+.2f mm", -s)}, nil
	case AtStation:
		return alignAt(o, c, pairs, opt.Station)
	}
	return aligned{}, fmt.Errorf("check: %w: there is no alignment %q: choose hook end, best fit or a station", ErrAlign, string(opt.Align))
}

func alignAt(o, c *side, pairs []pair, x float64) (aligned, error) {
	near := nearest(o.marks, x)
	if near < 0 || math.Abs(o.marks[near].x-x) > nearStation {
		return aligned{}, fmt.Errorf("check: %w: the original has no station within %.0f mm of %.2f mm", ErrAlign, nearStation, x)
	}
	for _, p := range pairs {
		if p.o == near {
			a, b := o.marks[p.o], c.marks[p.c]
			return aligned{b.x - a.x, math.Hypot(a.ux, b.ux), fmt.Sprintf("station %.2f mm", a.x)}, nil
		}
	}
	return aligned{}, fmt.Errorf("check: %w: the copy has no station like the original's at %.2f mm, name another", ErrAlign, o.marks[near].x)
}

const (
	// fitLooks is how many stations a best fit looks at; a turning has some tens of edges.
	fitLooks = 400
	// fitCap is the difference of diameters past which a place counts as not fitting, however far it is off, mm.
	fitCap = 2.0
	// fitReach is how far a copy is moved beyond the difference of the lengths, as a share of the length.
	fitReach = 0.05
	// fitCoarse and fitFine are the steps of the search, mm.
	fitCoarse, fitFine = 0.5, 0.05
)

// bestShift returns the shift with the least mean of the absolute differences of diameter, each held to fitCap: a robust
// fit, in which a damaged or changed stretch cannot pull the rest.
func bestShift(o, c Piece) float64 {
	reach := math.Abs(o.length()-c.length()) + fitReach*o.length()
	best := leastShift(o, c, -reach, reach, fitCoarse)
	return leastShift(o, c, best-fitCoarse, best+fitCoarse, fitFine)
}

func leastShift(o, c Piece, lo, hi, step float64) float64 {
	n := int(math.Round((hi - lo) / step))
	best, least := 0.0, math.Inf(1)
	for i := range n + 1 {
		s := lo + float64(i)*(hi-lo)/float64(n)
		// Of equals the smaller move wins: a plain cylinder fits anywhere.
		if m := misfit(o, c, s); m < least-1e-9 || m < least+1e-9 && math.Abs(s) < math.Abs(best) {
			best, least = s, m
		}
	}
	return best
}

func misfit(o, c Piece, shift float64) float64 {
	sum := 0.0
	for i := range fitLooks {
		x := (float64(i) + 0.5) / fitLooks * o.length()
		a, b := o.drawn(x), c.measured(x+shift)
		switch {
		case !a.ok || !a.seen || b.ok && !b.seen:
		case !b.ok:
			sum += fitCap
		default:
			sum += math.Min(fitCap, math.Abs(a.d-b.d))
		}
	}
	return sum / fitLooks
}
