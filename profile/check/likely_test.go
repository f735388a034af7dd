package check

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
)

// distance is the root mean square of the differences of diameters at all stations and of lengths of all elements, mm.
func distance(truth, p profile.Pattern) float64 {
	if len(truth.Elements) != len(p.Elements) {
		return math.Inf(1)
	}
	sum, n := 0.0, 0
	add := func(d float64) { sum, n = sum+d*d, n+1 }
	for i, a := range truth.Elements {
		b := p.Elements[i]
		add(a.Length() - b.Length())
		add(a.D0 - b.D0)
		add(a.D1 - b.D1)
		if _, d, ok := a.Mid(); ok {
			if _, e, ok := b.Mid(); ok {
				add(d - e)
			}
		}
	}
	return math.Sqrt(sum / float64(n))
}

// worn takes amount off every crest.
func worn(s []shape, amount float64) []shape {
	for i := range s {
		if s[i].mid > s[i].d0 {
			s[i].mid = math.Max(s[i].mid-amount, math.Max(s[i].d0, s[i].d1)+0.5)
		}
	}
	return s
}

// chipped takes amount off one element.
func chipped(s []shape, i int, amount float64) []shape {
	s[i].d0 -= amount
	s[i].d1 -= amount
	if s[i].mid > 0 {
		s[i].mid -= amount
	}
	return s
}

// scaled makes every diameter larger by a share, as an oval piece seen across one face.
func scaled(s []shape, share float64) []shape {
	for i := range s {
		s[i].d0 *= 1 + share
		s[i].d1 *= 1 + share
		s[i].mid *= 1 + share
	}
	return s
}

func longer(s []shape, i int, by float64) []shape {
	s[i].length += by
	return s
}

// TestThreeWornOriginalsGiveTheDesign degrades one design three ways: none of them is as near to it as what they give
// together. A chip may lie where another piece is worn, if the fuller ones count; the majority needs two sound ones.
func TestThreeWornOriginalsGiveTheDesign(t *testing.T) {
	var anywhere, smooth []int
	for i, s := range baluster() {
		anywhere = append(anywhere, i)
		if s.mid <= s.d0 {
			smooth = append(smooth, i)
		}
	}
	t.Run("the fuller", func(t *testing.T) { threeWorn(t, anywhere, LikelyOptions{Worn: true}) })
	t.Run("the majority", func(t *testing.T) { threeWorn(t, smooth, LikelyOptions{}) })
}

// threeWorn chips one of the elements.
func threeWorn(t *testing.T, chippable []int, o LikelyOptions) {
	truth := pattern(baluster())
	rapid.Check(t, func(t *rapid.T) {
		const ud, ux = 0.1, 0.2
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		wear := rapid.Float64Range(0.6, 2).Draw(t, "wear")
		chip := rapid.Float64Range(1, 3).Draw(t, "chip")
		where := rapid.SampledFrom(chippable).Draw(t, "where")
		oval := rapid.Float64Range(-0.02, 0.02).Draw(t, "oval")
		by := rapid.Float64Range(5, 40).Draw(t, "by")
		pieces := []Piece{
			seenWith("worn", pattern(worn(baluster(), wear)), ud, ux, r),
			seenWith("chipped", pattern(chipped(baluster(), where, chip)), ud, ux, r),
			seenWith("oval and longer", pattern(longer(scaled(baluster(), oval), 6, by)), ud, ux, r),
		}
		r.Shuffle(3, func(i, j int) { pieces[i], pieces[j] = pieces[j], pieces[i] })
		p, _, err := Likely(pieces, o)
		if err != nil {
			t.Fatal(err)
		}
		best := math.Inf(1)
		for _, k := range pieces {
			best = math.Min(best, distance(truth, k.Pattern))
		}
		if got := distance(truth, p); got >= best {
			t.Errorf("together %.3f mm from the design, the best single one %.3f mm", got, best)
		}
	})
}

func TestFindingsAreNamed(t *testing.T) {
	pieces := []Piece{
		{Name: "sound", Pattern: pattern(baluster())},
		{Name: "worn", Pattern: pattern(worn(baluster(), 1.5))},
		{Name: "longer", Pattern: pattern(longer(baluster(), 6, 20))},
		{Name: "oval", Pattern: pattern(scaled(baluster(), 0.015))},
		{Name: "chipped", Pattern: pattern(chipped(baluster(), 8, 2))},
	}
	p, s, err := Likely(pieces, LikelyOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if d := distance(pattern(baluster()), p); d > 0.1 {
		t.Errorf("%.3f mm from the design", d)
	}
	for i, want := range []Finding{"", Worn, Longer, Scaled, Smaller} {
		found := s.ByPiece(i)
		if want == "" {
			if len(found) > 0 {
				t.Errorf("%s: %v", pieces[i].Name, found)
			}
			continue
		}
		if len(found) == 0 {
			t.Errorf("%s: nothing is named", pieces[i].Name)
		}
		for _, f := range found {
			if f.Finding != want {
				t.Errorf("%s: named %s", pieces[i].Name, f.Words)
			}
		}
	}
}

func TestWeightAndDrop(t *testing.T) {
	thin := Piece{Name: "thin", Pattern: pattern(scaled(baluster(), -0.03))}
	sound := Piece{Name: "sound", Pattern: pattern(baluster())}
	fat := Piece{Name: "fat", Pattern: pattern(scaled(baluster(), 0.03))}
	crest := func(pieces ...Piece) float64 {
		p, _, err := Likely(pieces, LikelyOptions{})
		if err != nil {
			t.Fatal(err)
		}
		_, d, _ := p.Elements[2].Mid()
		return d
	}
	if d := crest(thin, sound, fat); math.Abs(d-38) > 0.05 {
		t.Errorf("of three the middle one: %.2f, want 38", d)
	}
	heavy := fat
	heavy.Weight = 5
	if d := crest(thin, sound, heavy); d < 38.4 || d > 38*1.03 {
		t.Errorf("the weighty one: %.2f, want it nearer %.2f than 38", d, 38*1.03)
	}
	out := thin
	out.Drop = true
	if d := crest(out, sound, fat); math.Abs(d-38*1.015) > 0.2 {
		t.Errorf("one dropped: %.2f, want near %.2f", d, 38*1.015)
	}
	out.Drop, sound.Drop = true, true
	if _, _, err := Likely([]Piece{out, sound, fat}, LikelyOptions{}); !errors.Is(err, ErrDesign) {
		t.Errorf("one left: %v", err)
	}
}

func TestHiddenStretchesSayNothing(t *testing.T) {
	a, b, c := pattern(baluster()), pattern(baluster()), pattern(baluster())
	for _, p := range []*profile.Pattern{&a, &b} { // two wrong ones of three would win
		w, _ := p.Elements[9].WithMid(27)
		w.State = profile.Damaged
		p.Elements[9] = w
	}
	p, _, err := Likely([]Piece{{Pattern: a}, {Pattern: b}, {Pattern: c}}, LikelyOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if _, d, _ := p.Elements[9].Mid(); math.Abs(d-31) > 1e-6 {
		t.Errorf("the crest is %.2f, the only sound piece says 31", d)
	}
	if s := p.Elements[9].State; s != profile.Visible {
		t.Errorf("one piece shows it, it is %s", s)
	}
	p, _, err = Likely([]Piece{{Pattern: a}, {Pattern: b}}, LikelyOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if s := p.Elements[9].State; s != profile.Damaged {
		t.Errorf("no piece shows it, it is %s", s)
	}
}

func TestAnotherDesignIsRefused(t *testing.T) {
	other := pattern([]shape{{profile.Cylinder, 200, 12, 12, 0}, {profile.Cove, 30, 60, 60, 40}, {profile.Taper, 90, 60, 10, 0}})
	_, _, err := Likely([]Piece{{Name: "a", Pattern: pattern(baluster())}, {Name: "b", Pattern: other}}, LikelyOptions{})
	if !errors.Is(err, ErrDesign) {
		t.Errorf("%v", err)
	}
}

// TestConsensus: three equal values, and the worked mean of a Type A evaluation (GUM 4.2: the mean of n values has the
// standard deviation s/√n).
func TestConsensus(t *testing.T) {
	three := []value{{v: 20, u: 0.1, w: 1}, {v: 20, u: 0.1, w: 1}, {v: 20, u: 0.1, w: 1}}
	if c, s, u := consensus(three); c != 20 || s != 0 || math.Abs(u-0.1) > 1e-12 {
		t.Errorf("%v %v %v", c, s, u)
	}
	r := dice(9)
	var many []value
	for i := range 400 {
		many = append(many, value{v: 20 + r.NormFloat64(), w: 1, piece: i})
	}
	for i := range 40 {
		many = append(many, value{v: 30, w: 1, piece: 400 + i})
	}
	c, s, u := consensus(many)
	if math.Abs(c-20) > 0.25 || math.Abs(s-1) > 0.2 || math.Abs(u-2/math.Sqrt(440)) > 0.03 {
		t.Errorf("with a tenth of outliers: %.3f, scatter %.3f, U %.3f", c, s, u)
	}
}
