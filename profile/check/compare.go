package check

import (
	"fmt"
	"math"

	"spindlestick/profile"
)

// Options say how to compare. The zero value aligns by the hook end and takes the default tolerance.
type Options struct {
	Align      Align       // empty = HookEnd
	Station    float64     // of AtStation: mm from the original's hook end
	Tolerance  Tolerance   // zero fields = DefaultTolerance
	Exceptions []Exception // stations with a tolerance of their own
	Calipers   float64     // expanded uncertainty of a caliper reading, mm; 0 = DefaultCalipers
}

// Report is what a comparison of a copy with its original found; mm throughout, uncertainties expanded (k = 2).
type Report struct {
	Original, Copy Piece
	Alignment      string  // in words
	Shift          float64 // station x of the original lies at x + Shift of the copy
	Tolerance      Tolerance
	Stations       []Row
	Positions      []Place   // none of a copy that is read with calipers
	Curve          []Point   // none likewise
	Stray          []Reading // of the calipers, at stations that the original does not have

	pairs []pair // of the stations of both, for the overlay
}

// Row compares diameters at one station of the original with those at the copy's station like it; a step has two rows.
type Row struct {
	X         float64
	Number    int    // as the sheets number the station; 0 = they do not
	Side      Side   // of a step
	What      string // the element and what of it
	Original  float64
	Copy      float64
	Deviation float64 // copy - original
	U         float64
	Tolerance float64
	Verdict   Verdict
	Absent    bool // the copy does not reach here or is not measured yet: Copy, Deviation and U mean nothing
	Visible   bool // the eye compares it on two pieces side by side

	reach bool // of calipers
}

// Differs reports whether the two are told apart at all: a deviation beyond its uncertainty.
func (r Row) Differs() bool { return r.Verdict.Claims() && math.Abs(r.Deviation) > r.U }

// Place compares where an edge stands that both pieces have.
type Place struct {
	X         float64 // of the original
	What      string
	Copy      float64 // as aligned, from the original's hook end
	Deviation float64
	U         float64
	Tolerance float64
	Verdict   Verdict
}

// Differs reports whether the edge stands elsewhere beyond its uncertainty.
func (p Place) Differs() bool { return p.Verdict != NotSeen && math.Abs(p.Deviation) > p.U }

// side is a piece and its stations.
type side struct {
	piece Piece
	marks []mark
}

// Compare compares a copy with its original.
func Compare(original, made Piece, o Options) (Report, error) {
	for _, p := range []Piece{original, made} {
		if err := p.validate(); err != nil {
			return Report{}, err
		}
	}
	if original.Gauged {
		return Report{}, fmt.Errorf("check: %s: %w: an original needs a pattern or a trace, not readings alone", original.name(), ErrPiece)
	}
	if made.Gauged {
		return compareReadings(original, made, o)
	}
	a, b := &side{original, original.marks()}, &side{made, made.marks()}
	var pairs []pair
	if original.patterned() && made.patterned() {
		pairs, _ = match(a.marks, b.marks)
	}
	al, err := align(a, b, pairs, o)
	if err != nil {
		return Report{}, err
	}
	tol, err := tolerances(a.marks, o)
	if err != nil {
		return Report{}, err
	}
	r := Report{Original: original, Copy: made, Alignment: al.words, Shift: al.shift, Tolerance: o.Tolerance.over(DefaultTolerance()), pairs: pairs}
	r.Stations = rows(a, b, pairs, al.shift, tol)
	r.Positions = places(a, b, pairs, al, tol)
	r.Curve = curve(original, made, al.shift, r.Tolerance.Diameter)
	return r, nil
}

// places compares the edges that both pieces have.
func places(o, c *side, pairs []pair, al aligned, tol []Tolerance) []Place {
	var out []Place
	for _, p := range pairs {
		a, b := o.marks[p.o], c.marks[p.c]
		if a.role != profile.Edge {
			continue
		}
		at := b.x - al.shift
		u := math.Sqrt(a.ux*a.ux + b.ux*b.ux + al.ushift*al.ushift)
		pl := Place{X: a.x, What: edgeWords(a), Copy: at, Deviation: at - a.x, U: u, Tolerance: tol[p.o].Station}
		pl.Verdict = NotSeen
		if a.shown() && b.shown() {
			pl.Verdict = judge(pl.Deviation, u, pl.Tolerance)
		}
		out = append(out, pl)
	}
	return out
}

// shown reports whether what makes the station was seen on both sides of it.
func (m mark) shown() bool {
	return (m.before.seen || !m.before.ok) && (m.after.seen || !m.after.ok)
}

func edgeWords(m mark) string {
	switch {
	case !m.before.ok:
		return "hook end"
	case !m.after.ok:
		return "far end"
	case m.after.kind == "":
		return "trace"
	}
	return string(m.before.kind) + " to " + string(m.after.kind)
}
