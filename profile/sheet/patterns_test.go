package sheet_test

import (
	"flag"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
)

// build joins elements, of which only lengths, diameters and shapes are given, into a pattern.
func build(elements ...profile.Element) profile.Pattern {
	var p profile.Pattern
	for _, e := range elements {
		shift := p.Length - e.X0
		e.X0 += shift
		e.X1 += shift
		if e.Kind.Inner() {
			e.InnerX += shift
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

func square(length, side float64) profile.Element {
	return profile.Element{Kind: profile.Square, X1: length, D0: side, D1: side, Side: side}
}

func shoulder(length, side, d float64, squareFirst bool) profile.Element {
	e := profile.Element{Kind: profile.Shoulder, X1: length, D0: side * math.Sqrt2, D1: d, Side: side, Style: profile.Quarter, Sagitta: -2}
	if !squareFirst {
		e.D0, e.D1 = e.D1, e.D0
	}
	return e
}

func vee(length, d, bottom float64) profile.Element {
	return profile.Element{Kind: profile.Vee, X1: length, D0: d, D1: d, InnerX: length / 2, InnerD: bottom}
}

func ogee(length, d0, d1 float64) profile.Element {
	return profile.Element{Kind: profile.Ogee, X1: length, D0: d0, D1: d1, InnerX: length / 2, InnerD: (d0 + d1) / 2, Sagitta: -length / 20}
}

// finial is 120 mm long and has 2 mm fillets close together.
func finial() profile.Pattern {
	return build(straight(profile.Cylinder, 18, 14, 14), fillet(2, 30), curved(profile.Bead, 8, 30, 30, 36), fillet(2, 26),
		curved(profile.Cove, 12, 24, 20, 15), fillet(2, 21), curved(profile.Bead, 7, 21, 21, 27), fillet(2, 20), ogee(22, 18, 34),
		straight(profile.HalfBead, 14, 34, 18), vee(3, 18, 14), fillet(2, 18), curved(profile.Bead, 6, 16, 16, 20), straight(profile.Taper, 20, 14, 5))
}

// spindle is 450 mm long and slender.
func spindle() profile.Pattern {
	return build(straight(profile.Cylinder, 25, 13.5, 13.5), straight(profile.Taper, 110, 14, 19.5), fillet(2.8, 17), curved(profile.Bead, 7.5, 17, 17, 22),
		fillet(2.4, 17), curved(profile.Cove, 13, 17, 17, 12), fillet(2.8, 19), straight(profile.Taper, 123, 16, 20.5), straight(profile.Taper, 128.5, 20.5, 14),
		curved(profile.Bead, 9, 14, 14, 18.2), straight(profile.Cylinder, 26, 12.5, 12.5))
}

// baluster is 800 mm long with a square at either end.
func baluster() profile.Pattern {
	p := build(square(128, 44), shoulder(16, 44, 38, true), fillet(3.6, 33), curved(profile.Bead, 11.4, 33, 33, 43), fillet(3, 33),
		curved(profile.Cove, 16.7, 30, 30, 21), fillet(2.9, 30), curved(profile.Bead, 8.1, 30, 30, 37), fillet(2.8, 28), ogee(45.5, 28, 42),
		straight(profile.Taper, 190, 42, 27.5), fillet(3, 26), curved(profile.Bead, 9, 26, 26, 34), fillet(3, 26), straight(profile.Taper, 132, 27, 36),
		vee(4, 36, 30.5), straight(profile.Cylinder, 9, 36, 36), vee(4, 36, 30.5), straight(profile.Cylinder, 6, 36, 36), fillet(3, 33),
		curved(profile.Bead, 11, 33, 33, 43), fillet(4, 33), shoulder(16, 44, 38, false), square(168, 44))
	p.Elements[9].State = profile.Damaged
	p.Elements[14].State = profile.Inferred
	return p
}

func examples() map[string]profile.Pattern {
	return map[string]profile.Pattern{"finial": finial(), "spindle": spindle(), "baluster": baluster()}
}

// anyPattern draws a turning: up to 30 elements of 1.5 to 80 mm, between 4 and 90 mm across.
func anyPattern(t *rapid.T) profile.Pattern {
	n := rapid.IntRange(1, 30).Draw(t, "elements")
	var all []profile.Element
	for range n {
		all = append(all, anyElement(t))
	}
	p := build(all...)
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	return p
}

func anyElement(t *rapid.T) profile.Element {
	kind := rapid.SampledFrom(profile.Kinds()).Draw(t, "kind")
	l := rapid.Float64Range(1.5, 80).Draw(t, "length")
	if rapid.Bool().Draw(t, "short") {
		l = rapid.Float64Range(1.5, 6).Draw(t, "short length")
	}
	d0, d1 := rapid.Float64Range(4, 90).Draw(t, "d0"), rapid.Float64Range(4, 90).Draw(t, "d1")
	e := straight(kind, l, d0, d1)
	switch kind {
	case profile.Fillet, profile.Cylinder:
		e.D1 = d0
	case profile.Square:
		e = square(l, d0)
	case profile.Shoulder:
		e = shoulder(l, d0, d1, true)
	case profile.Vee:
		e = vee(l, d0, d0/2)
	case profile.Ogee:
		e = ogee(l, d0, d1)
	case profile.Bead, profile.Swell:
		e = straight(kind, l, d0, d0)
		e.Sagitta = l * rapid.Float64Range(0.02, 0.5).Draw(t, "rise")
	case profile.Cove:
		e = straight(kind, l, d0, d0)
		e.Sagitta = -math.Min(l/2, d0/2-1) * rapid.Float64Range(0.02, 1).Draw(t, "fall")
	}
	e.State = rapid.SampledFrom([]profile.State{"", profile.Hidden, profile.Damaged, profile.Inferred}).Draw(t, "state")
	u := rapid.SampledFrom([]float64{0, 0.08, 12.5, 7e5}).Draw(t, "uncertainty")
	e.U = profile.Bounds{X0: u, X1: u, D0: u, D1: u, Mid: u}
	return e
}

// few returns how many random cases to try: 60, or 300 when all checks are asked for.
func few() int {
	if os.Getenv("SPINDLESTICK_ALL") != "" {
		return 300
	}
	return 60
}

// check runs a property on as many random cases as few says.
func check(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	checks := flag.Lookup("rapid.checks").Value
	before := checks.String()
	defer func() { _ = checks.Set(before) }()
	if err := checks.Set(strconv.Itoa(few())); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, property)
}
