package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
)

// arcPoints are n points of the arc over a chord from (100, 20) along the axis.
func arcPoints(chord, height float64, n int) []point {
	s := profile.Segment{X0: 100, R0: 20, X1: 100 + chord, R1: 20, Sagitta: height}
	var out []point
	for i := range n {
		x, r := along(s, float64(i)/float64(n-1))
		out = append(out, point{x: x, r: r, weight: 1})
	}
	return out
}

func sum(pts []point) *moments {
	m := newMoments(pts[0])
	for _, p := range pts {
		m.add(p)
	}
	return &m
}

// Machinery's Handbook, 31st edition, segments of circles: pages 79 and 50.
func TestArcsOfTheHandbook(t *testing.T) {
	for _, c := range []struct{ chord, height, radius, tol float64 }{
		{16, 6, 8 + 1./3, 1e-6},
		{59.86, 8, 60, 0.02}, // the chord is rounded
		{13.27, 2, 12, 0.01},
		{13.27, -2, 12, 0.01}, // the same cut the other way
	} {
		pts := arcPoints(c.chord, c.height, 60)
		got, ok := sum(pts).arcFit()
		if !ok {
			t.Fatalf("no circle through the arc of chord %v and height %v", c.chord, c.height)
		}
		within(t, "radius", got.radius, c.radius, c.tol)
		within(t, "centre", got.x, 100+c.chord/2, c.tol)
		if e := sum(pts).arc(); e > 1e-9 {
			t.Errorf("exact points lie %g mm² off their own circle", e)
		}
	}
}

// A short arc is where simple circle fits are biased towards small radii (Al-Sharadqah and Chernov, EJS 3:886,
// 2009); Taubin's is not: the mean of many noisy fits of R 60, height 8 stays within two standard errors and 1 %.
func TestShortArcsAreUnbiased(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 60))
	const n, sigma = 400, 0.2
	mean, square := 0.0, 0.0
	for range n {
		pts := arcPoints(59.86, 8, 60)
		for i := range pts {
			pts[i].r += sigma * rng.NormFloat64()
		}
		c, _ := sum(pts).arcFit()
		mean += c.radius / n
		square += c.radius * c.radius / n
	}
	se := math.Sqrt((square - mean*mean) / n)
	within(t, "mean radius", mean, 60, math.Max(2*se, 0.6))
}

// Taper per foot to included angle: the handbook's table; 1 7/8 to 3/4 inch over 26 inches: 1 5/16 inch in the
// middle, 0.519 inch a foot, half angle 1.239 degrees (a published working example).
func TestTapersOfTheHandbook(t *testing.T) {
	degrees := func(d, m, s float64) float64 { return (d + m/60 + s/3600) * math.Pi / 180 }
	for _, c := range []struct{ perFoot, angle float64 }{
		{0.25, degrees(1, 11, 36)}, {0.5, degrees(2, 23, 10)}, {0.75, degrees(3, 34, 44)}, {1, degrees(4, 46, 18)}, {3, degrees(14, 15, 0)},
	} {
		p := (&plate{}).run(profile.Cylinder, 1, 1, 1).run(profile.Taper, 6, 1, 1+c.perFoot/2)
		got := fitExact(t, p)
		e := got.Elements[len(got.Elements)-1]
		if e.Kind != profile.Taper {
			t.Fatalf("%v inch a foot came out as %v", c.perFoot, kinds(got))
		}
		within(t, "included angle", e.Angle(), c.angle, degrees(0, 2, 0))
	}
	leg := fitExact(t, (&plate{}).run(profile.Taper, 26, 1+7./8, 0.75))
	mid, _ := leg.DiameterAt(13 * inch)
	within(t, "middle", mid, (1+5./16)*inch, 0.05)
	within(t, "half angle", leg.Elements[0].Angle()/2, 1.239*math.Pi/180, 1e-4)
}

func fitExact(t *testing.T, p *plate) profile.Pattern {
	t.Helper()
	want := profile.Pattern{Length: p.x, Elements: p.es}
	got, err := Trace(traced(want, 0.25, 0.005, rand.New(rand.NewPCG(2, 3))), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// A square of 15 has the diagonal 21.21 (Machinery's Handbook p. 75): a shoulder starts there, though a silhouette
// face on shows it from half the side only.
func TestSquareAndShoulder(t *testing.T) {
	for _, style := range []profile.Style{profile.Quarter, profile.Reversed} {
		for _, flip := range []bool{false, true} {
			want := pommel(style, flip)
			got, err := Trace(traced(want, 0.1, 0.005, rand.New(rand.NewPCG(15, 21))), Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Elements) != 3 {
				t.Fatalf("%s, flipped %v: %v", style, flip, kinds(got))
			}
			for i, w := range want.Elements {
				g := got.Elements[i]
				if g.Kind != w.Kind || g.Style != w.Style {
					t.Errorf("%s, flipped %v: element %d is a %s %s, want %s", style, flip, i, g.Style, g.Kind, w.Kind)
				}
				within(t, "start", g.X0, w.X0, 0.3)
				within(t, "end", g.X1, w.X1, 0.3)
				within(t, "first diameter", g.D0, w.D0, 0.1)
				within(t, "second diameter", g.D1, w.D1, 0.1)
			}
		}
	}
}

// pommel is a square of 15 mm, a shoulder down to 12 and a cylinder of 9.
func pommel(style profile.Style, flip bool) profile.Pattern {
	const side, round = 15.0, 12.0
	corner := 21.21 / 2
	e := profile.Element{Kind: profile.Shoulder, Style: style, Side: side, X0: 40, X1: 48, D0: 21.21, D1: round}
	s := profile.Segment{X0: e.X0, R0: corner, X1: e.X1, R1: round / 2}
	e.Sagitta = levelSagitta(s, true)
	if style == profile.Reversed {
		e.InnerX, e.InnerD = 44, (21.21+round)/2
		e.Sagitta = levelSagitta(profile.Segment{X0: 40, R0: corner, X1: 44, R1: e.InnerD / 2}, true)
	}
	es := []profile.Element{
		{Kind: profile.Square, X0: 0, X1: 40, D0: side, D1: side, Side: side}, e,
		{Kind: profile.Cylinder, X0: 48, X1: 70, D0: 9, D1: 9},
	}
	if flip {
		for i := range es {
			e := &es[i]
			e.X0, e.X1, e.D0, e.D1 = 70-e.X1, 70-e.X0, e.D1, e.D0
			e.InnerX = 70 - e.InnerX
			if style == profile.Reversed {
				e.Sagitta = -e.Sagitta
			}
		}
		es[0], es[2] = es[2], es[0]
	}
	return profile.Pattern{Length: 70, Elements: es}
}
