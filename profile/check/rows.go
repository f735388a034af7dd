package check

import (
	"math"

	"spindlestick/profile"
)

// sameStep is how far two diameters at a station may differ and still be one row, mm: they print as the same tenth, or
// the next. Beyond it a step within its own uncertainty is none.
const sameStep = 0.1

// rows compares the diameters at every station of the original.
func rows(o, c *side, pairs []pair, shift float64, tol []Tolerance) []Row {
	partner := map[int]int{}
	for _, p := range pairs {
		partner[p.o] = p.c
	}
	var out []Row
	for i, a := range o.marks {
		var b mark
		if j, ok := partner[i]; ok {
			b = c.marks[j]
		} else {
			b = c.piece.markAt(carry(a.x, pairs, o.marks, c.marks, shift), a, o.piece)
		}
		out = append(out, rowsAt(a, b, tol[i].Diameter)...)
	}
	return out
}

// Side says on which side of a step a diameter is taken.
type Side string

// The sides of a step.
const (
	OneSize  Side = "" // there is no step
	HookSide Side = "hook side"
	FarSide  Side = "far side"
)

// rowsAt compares one station: one row, or two where either piece has a step.
func rowsAt(a, b mark, tol float64) []Row {
	var out []Row
	add := func(side Side, what string, f, g face) {
		r := row(a.x, what, f, g, tol)
		r.Number, r.Side, r.Visible, r.reach = a.number, side, standsOut(a, f), reachable(a, f)
		out = append(out, r)
	}
	switch {
	case a.role != profile.Edge:
		add(OneSize, string(a.after.kind)+", "+string(a.role), a.after, b.after)
	case !a.before.ok:
		add(OneSize, faceWords(a.after, "start"), a.after, b.after)
	case !a.after.ok:
		add(OneSize, faceWords(a.before, "end"), a.before, b.before)
	case level(a) && level(b):
		add(OneSize, edgeWords(a), better(a), better(b))
	default:
		add(HookSide, faceWords(a.before, "end"), a.before, b.before)
		add(FarSide, faceWords(a.after, "start"), a.after, b.after)
	}
	return out
}

// standsOut reports whether a face of a station is where the eye compares two pieces that stand side by side: a crest, an
// end, the outer side of a step; not what lies in a hollow, nor the foot of a step.
func standsOut(m mark, f face) bool {
	if m.role != profile.Edge {
		return m.role == profile.Crest
	}
	outer := math.Max(m.before.d, m.after.d)
	if m.before.ok && m.after.ok && outer-math.Min(m.before.d, m.after.d) < sameStep {
		return !m.crease
	}
	return f.d >= outer
}

// reachable reports whether calipers can be laid on a face of a station: not at an inflection, which has no mark on the
// wood, at the bottom of a vee, or across a square's corners.
func reachable(m mark, f face) bool {
	if m.role != profile.Edge {
		return m.role == profile.Crest || m.role == profile.Bottom && f.kind != profile.Vee
	}
	return !f.corner
}

func faceWords(f face, which string) string {
	if f.kind == "" {
		return "trace"
	}
	return string(f.kind) + ", " + which
}

func level(m mark) bool {
	most := math.Max(sameStep, math.Hypot(m.before.u, m.after.u))
	return m.before.ok && m.after.ok && m.before.kind != profile.Square && m.after.kind != profile.Square && math.Abs(m.before.d-m.after.d) < most
}

// better joins both sides of a station without a step: the side that is known better.
func better(m mark) face {
	if m.before.seen != m.after.seen {
		if m.before.seen {
			return m.before
		}
		return m.after
	}
	if m.before.u < m.after.u {
		return m.before
	}
	return m.after
}

func row(x float64, what string, a, b face, tol float64) Row {
	r := Row{X: x, What: what, Original: a.d, Tolerance: tol, Verdict: NotSeen, Absent: !b.ok}
	if !b.ok {
		return r
	}
	r.Copy, r.Deviation, r.U = b.d, b.d-a.d, math.Hypot(a.u, b.u)
	if a.seen && b.seen && !flatAgainstTrace(a, b) {
		r.Verdict = judge(r.Deviation, r.U, tol)
	}
	return r
}

// flatAgainstTrace reports whether a square is held against a bare trace, which shows how the square lay, not its side.
func flatAgainstTrace(a, b face) bool {
	flat := func(k profile.Kind) bool { return k == profile.Square || k == profile.Shoulder }
	return flat(a.kind) && b.kind == "" || flat(b.kind) && a.kind == ""
}

// besideMM is how far beside a station its two sides are read on a piece that has no such station, mm: half a scribed
// line.
const besideMM = 0.05

// markAt reads the piece at x as if it had the other piece's station a there. What its place is uncertain by makes the
// diameters uncertain, by as much as the pieces change within that.
func (p Piece) markAt(x float64, a mark, other Piece) mark {
	ux := math.Hypot(p.placed(x), a.ux)
	if !p.patterned() {
		ux += curveStep // samples smear a step between two of them
	}
	read := func(at float64, like face) face {
		r := p.drawn(at)
		if !r.ok || !like.ok {
			return face{}
		}
		f := face{reading: r, element: -1}
		if i := p.Pattern.Index(at); i >= 0 {
			f = p.face(i, at)
		}
		f.u = math.Sqrt(square(f.u) + square(wander(p.drawn, at, ux)) + square(wander(other.within(like.element), a.x, ux)))
		return f
	}
	if a.role != profile.Edge {
		f := read(x, a.after)
		return mark{x: x, ux: ux, role: a.role, before: f, after: f}
	}
	return mark{x: x, ux: ux, role: a.role, before: read(x-besideMM, a.before), after: read(x+besideMM, a.after)}
}

// within reads one element of the pattern, and nothing beside it.
func (p Piece) within(i int) func(float64) reading {
	if i < 0 || i >= len(p.Pattern.Elements) {
		return p.drawn
	}
	e := p.Pattern.Elements[i]
	return func(x float64) reading { return reading{d: e.At(x), ok: x >= e.X0 && x <= e.X1} }
}

// wanderLooks is how many places on either side are looked at within an uncertainty of place.
const wanderLooks = 5

// wander is how far the diameter at x changes within ux along the axis, mm.
func wander(read func(float64) reading, x, ux float64) float64 {
	here := read(x)
	most := 0.0
	for i := 1; i <= wanderLooks; i++ {
		d := ux * float64(i) / wanderLooks
		for _, at := range []float64{x - d, x + d} {
			if r := read(at); r.ok {
				most = math.Max(most, math.Abs(r.d-here.d))
			}
		}
	}
	return most
}
