package plan_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/plan"
)

// build joins elements, of which only lengths, diameters and shapes are given, into a pattern.
func build(elements ...profile.Element) profile.Pattern {
	var p profile.Pattern
	for _, e := range elements {
		e.X0 += p.Length
		e.X1 += p.Length
		if e.InnerX != 0 {
			e.InnerX += p.Length
		}
		p.Elements = append(p.Elements, e)
		p.Length = e.X1
	}
	return p
}

func straight(kind profile.Kind, length, d0, d1 float64) profile.Element {
	return profile.Element{Kind: kind, X1: length, D0: d0, D1: d1}
}

func fillet(length, d float64) profile.Element { return straight(profile.Fillet, length, d, d) }

// curved is a bead, cove or swell with its crest or bottom at diameter mid.
func curved(kind profile.Kind, length, d0, d1, mid float64) profile.Element {
	e, ok := straight(kind, length, d0, d1).WithMid(mid)
	if !ok {
		panic("no arc reaches that diameter")
	}
	return e
}

func half(kind profile.Kind, length, d0, d1, sagitta float64) profile.Element {
	e := straight(kind, length, d0, d1)
	e.Sagitta = sagitta
	return e
}

func square(length, side float64) profile.Element {
	return profile.Element{Kind: profile.Square, X1: length, D0: side, D1: side, Side: side}
}

func shoulder(length, side, d float64, squareFirst bool) profile.Element {
	e := profile.Element{Kind: profile.Shoulder, X1: length, D0: side * math.Sqrt2, D1: d, Side: side, Style: profile.Quarter, Sagitta: -1.5}
	if !squareFirst {
		e.D0, e.D1 = e.D1, e.D0
	}
	return e
}

func vee(length, d, bottom float64) profile.Element {
	return profile.Element{Kind: profile.Vee, X1: length, D0: d, D1: d, InnerX: length / 2, InnerD: bottom}
}

// leg is the leg of a sewing stool, 380 mm long with a square at the top: the one whose photograph is in testdata.
func leg() profile.Pattern {
	return build(square(84, 41), shoulder(13, 41, 37, true), fillet(3.4, 31), curved(profile.Bead, 11.6, 31.4, 31.4, 40.2), fillet(3, 31),
		half(profile.HalfCove, 12.4, 29.6, 22.4, -1), straight(profile.Taper, 96.6, 22.4, 33.2), vee(4.4, 33.2, 27.6),
		straight(profile.Taper, 97.6, 33.2, 23.4), fillet(3.2, 20.4), curved(profile.Bead, 9.4, 20.8, 20.8, 29), fillet(3, 20.4),
		straight(profile.Taper, 38.4, 21, 26.2))
}

// spindle is round from end to end, with shapes that the leg lacks.
func spindle() profile.Pattern {
	return build(straight(profile.Cylinder, 23, 13.6, 13.6), straight(profile.Taper, 112, 14.2, 19.6), fillet(2.5, 17), curved(profile.Bead, 7.3, 17.2, 17.2, 22),
		curved(profile.Bead, 7.3, 17.2, 17.2, 22), curved(profile.Cove, 11, 17, 17, 13.2), half(profile.HalfBead, 5.2, 19.9, 15.3, 0.7),
		curved(profile.Swell, 135, 15.3, 15.3, 18.8), ogee(30, 14, 20), fillet(3, 18))
}

func ogee(length, d0, d1 float64) profile.Element {
	e := profile.Element{Kind: profile.Ogee, X1: length, D0: d0, D1: d1, InnerX: length / 2, InnerD: (d0 + d1) / 2}
	e.Sagitta = math.Copysign(length/24, d0-d1)
	return e
}

// drawn is a random pattern of any kinds of element, with a square at the hook end or none.
func drawn(t *rapid.T) profile.Pattern {
	var es []profile.Element
	side := 0.0
	if rapid.Bool().Draw(t, "square") {
		side = rapid.Float64Range(30, 80).Draw(t, "side")
		es = append(es, square(rapid.Float64Range(20, 150).Draw(t, "length"), side), shoulder(rapid.Float64Range(3, 25).Draw(t, "shoulder"), side, side*0.9, true))
	}
	n := rapid.IntRange(1, 9).Draw(t, "elements")
	for range n {
		es = append(es, drawnElement(t, side))
	}
	return build(es...)
}

func drawnElement(t *rapid.T, side float64) profile.Element {
	largest := 60.0
	if side > 0 {
		largest = side * 0.98
	}
	kinds := []profile.Kind{profile.Fillet, profile.Cylinder, profile.Taper, profile.Bead, profile.HalfBead, profile.Cove, profile.HalfCove, profile.Vee, profile.Ogee, profile.Swell}
	kind := rapid.SampledFrom(kinds).Draw(t, "kind")
	length := rapid.Float64Range(1, 200).Draw(t, "length")
	d0 := rapid.Float64Range(10, largest*0.8).Draw(t, "d0")
	d1 := rapid.Float64Range(10, largest*0.8).Draw(t, "d1")
	share := rapid.Float64Range(0.05, 0.9).Draw(t, "share")
	e := straight(kind, length, d0, d1)
	switch kind {
	case profile.Fillet, profile.Cylinder:
		e.D1 = d0
	case profile.Bead, profile.Swell:
		if f, ok := e.WithMid(max(d0, d1) + share*(largest-max(d0, d1))); ok {
			return f
		}
		e.Kind = profile.Taper
	case profile.Cove:
		if f, ok := e.WithMid(min(d0, d1) * (1 - share/2)); ok {
			return f
		}
		e.Kind = profile.Taper
	case profile.HalfBead:
		e.Sagitta = share * 0.2 * math.Min(length, 5)
	case profile.HalfCove:
		e.Sagitta = -share * 0.2 * math.Min(length, 5)
	case profile.Vee:
		e.InnerX, e.InnerD = length*share, min(d0, d1)*0.8
	case profile.Ogee:
		e = ogee(length, d0, d1)
		e.Sagitta *= share * math.Min(1, 20/length)
	}
	return e
}

func planned(t testing.TB, p profile.Pattern, o plan.Options) plan.Plan {
	t.Helper()
	out, err := plan.Make(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v ± %v", what, got, want, tolerance)
	}
}
