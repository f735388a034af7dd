package check

import (
	"math"
	"math/rand/v2"

	"spindlestick/profile"
)

// shape is an element by its kind, its length and its diameters at both ends and, where it has one, its middle; mm.
type shape struct {
	kind        profile.Kind
	length      float64
	d0, d1, mid float64
}

func pattern(shapes []shape) profile.Pattern {
	var p profile.Pattern
	for _, s := range shapes {
		e := profile.Element{Kind: s.kind, X0: p.Length, X1: p.Length + s.length, D0: s.d0, D1: s.d1, State: profile.Visible}
		switch s.kind {
		case profile.Square:
			e.Side = s.d0
		case profile.Vee, profile.Ogee:
			e.InnerX = (e.X0 + e.X1) / 2
		}
		if s.mid > 0 {
			made, ok := e.WithMid(s.mid)
			if !ok {
				panic("design: no arc reaches that middle")
			}
			e = made
		}
		p.Elements = append(p.Elements, e)
		p.Length = e.X1
	}
	return p
}

// baluster is a design of its own with every sort of joint: steps, rims, tangents and a square.
func baluster() []shape {
	return []shape{
		{profile.Square, 60, 40, 40, 0},
		{profile.Fillet, 4, 30, 30, 0},
		{profile.Bead, 12, 30, 30, 38},
		{profile.Fillet, 3, 28, 28, 0},
		{profile.Cove, 20, 28, 26, 20},
		{profile.Bead, 8, 30, 30, 35},
		{profile.Taper, 160, 34, 24, 0},
		{profile.Vee, 4, 24, 24, 20.5},
		{profile.Cylinder, 15, 24, 24, 0},
		{profile.Bead, 10, 24, 24, 31},
		{profile.Cylinder, 40, 20, 20, 0},
	}
}

// seenWith returns the piece as a photograph with expanded uncertainties ud and ux would give it: every figure off by a
// bounded error of that size, with a trace of the true shape. Errors stay within U/sqrt 2, so that two of them differ by
// no more than their combined U.
func seenWith(name string, p profile.Pattern, ud, ux float64, r *rand.Rand) Piece {
	err := func(u float64) float64 {
		return math.Max(-u/math.Sqrt2, math.Min(u/math.Sqrt2, r.NormFloat64()*u/2))
	}
	out := p.Clone()
	at := 0.0
	for i := range out.Elements {
		e := &out.Elements[i]
		end := e.X1 + err(ux)
		if _, d, ok := e.Mid(); ok {
			stretchTo(e, at, end-at)
			e.D0, e.D1 = e.D0+err(ud), e.D1+err(ud)
			if made, ok := e.WithMid(d + err(ud)); ok {
				*e = made
			}
		} else {
			stretchTo(e, at, end-at)
			e.D0 += err(ud)
			e.D1 = e.D0 + (p.Elements[i].D1 - p.Elements[i].D0)
			if e.Kind == profile.Square {
				e.Side = e.D0
			}
		}
		e.U = profile.Bounds{X0: ux, X1: ux, D0: ud, D1: ud, Mid: ud}
		at = end
	}
	out.Elements[0].U.X0 = 0
	out.Length, out.ULength = at, ux
	t := profile.Trace{Length: out.Length, ULength: ux}
	for _, s := range out.Curve(0.25) {
		s.U, s.State = ud, profile.Visible
		s.R += err(ud) / 4
		s.Sides = [2]float64{s.R, s.R}
		t.Samples = append(t.Samples, s)
	}
	return Piece{Name: name, Pattern: out, Trace: t}
}

func dice(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

// rowAt returns the row at the true station x of an element's part.
func rowAt(r Report, x float64, what string) (Row, bool) {
	var best Row
	found := false
	for _, s := range r.Stations {
		if s.What == what && math.Abs(s.X-x) < 2 && (!found || math.Abs(s.X-x) < math.Abs(best.X-x)) {
			best, found = s, true
		}
	}
	return best, found
}
