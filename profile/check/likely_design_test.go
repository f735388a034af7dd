package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
)

// randomDesign draws a turning of eight to fifteen elements as makers combine them: beads and coves between fillets,
// shafts, a vee, perhaps a square at the head.
func randomDesign(r *rand.Rand) []shape {
	between := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	var out []shape
	d := between(24, 44)
	if r.IntN(2) == 0 {
		out = append(out, shape{profile.Square, between(40, 90), d + 8, d + 8, 0})
	}
	for n := 8 + r.IntN(8); len(out) < n; {
		d = math.Max(18, math.Min(50, d+between(-5, 5)))
		switch r.IntN(6) {
		case 0:
			out = append(out, shape{profile.Fillet, between(2, 5), d, d, 0})
		case 1:
			l := between(6, 14)
			out = append(out, shape{profile.Bead, l, d, d, d + l*between(0.5, 0.9)})
		case 2:
			l := between(10, 30)
			out = append(out, shape{profile.Cove, l, d, d, d - math.Min(l*between(0.3, 0.6), d-12)})
		case 3:
			e := math.Max(18, d+between(-9, 9))
			out = append(out, shape{profile.Taper, between(40, 180), d, e, 0})
			d = e
		case 4:
			out = append(out, shape{profile.Vee, between(3, 5), d, d, d - between(2, 4)})
		case 5:
			out = append(out, shape{profile.Cylinder, between(12, 50), d, d, 0})
		}
	}
	return append(out, shape{profile.Taper, between(60, 200), d, math.Max(16, d-between(2, 12)), 0})
}

// degraded hands a copy of a design through what befalls old pieces, one or two of them, anywhere on it: crests worn
// (0.4 to 2 mm), one to three chips or deep cuts (1 to 3 mm), dried oval (0.5 to 2.7 %), another length of one shaft, an
// end lost to damp or sawn off.
func degraded(design []shape, r *rand.Rand) []shape {
	between := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	s := append([]shape(nil), design...)
	for _, k := range append(r.Perm(3)[:1+r.IntN(2)], 3+r.IntN(4)) {
		switch k {
		case 0:
			s = worn(s, between(0.4, 2))
		case 1:
			for range 1 + r.IntN(3) {
				i := r.IntN(len(s))
				s = chipped(s, i, between(1, math.Min(3, math.Min(s[i].d0, s[i].d1)/8)))
			}
		case 2:
			share := between(0.005, 0.027)
			if r.IntN(2) == 0 {
				share = -share
			}
			s = scaled(s, share)
		case 3:
			i := longest(s)
			s = longer(s, i, between(0.03, 0.25)*s[i].length)
		case 4:
			s[len(s)-1].length *= between(0.7, 0.95)
		}
	}
	return s
}

// longest is the longest of the shafts.
func longest(s []shape) int {
	best := len(s) - 1
	for i := range s {
		if s[i].mid == 0 && s[i].length > s[best].length {
			best = i
		}
	}
	return best
}

// apart is distance without the lengths of the last element and of the longest shaft: what one piece says of those
// does not make another's wrong.
func apart(truth, p profile.Pattern) float64 {
	if len(truth.Elements) != len(p.Elements) {
		return math.Inf(1)
	}
	shaft := 0
	for i, e := range truth.Elements {
		if _, _, arc := e.Mid(); !arc && e.Length() > truth.Elements[shaft].Length() {
			shaft = i
		}
	}
	p = p.Clone()
	for _, i := range []int{shaft, len(p.Elements) - 1} {
		stretchTo(&p.Elements[i], p.Elements[i].X0, truth.Elements[i].Length())
	}
	return distance(truth, p)
}

// leastHarm is how far from the design a piece must be to count as degraded, mm: a wear of crests on a design without any
// is none.
const leastHarm = 0.25

// nearness is how near several degraded pieces come to their design, over the best single one of them, in order; one
// number a design.
func nearness(t *testing.T, o LikelyOptions) []float64 {
	t.Helper()
	const ud, ux, designs, pieces = 0.1, 0.2, 200, 3
	var ratios []float64
	for seed := uint64(0); len(ratios) < designs; seed++ {
		r := rand.New(rand.NewPCG(seed, 7))
		design := randomDesign(r)
		truth, best := pattern(design), math.Inf(1)
		var in []Piece
		for k := range pieces {
			in = append(in, seenWith(fmt.Sprint(k), pattern(degraded(design, r)), ud, ux, r))
			best = math.Min(best, apart(truth, in[k].Pattern))
		}
		if best < leastHarm {
			continue
		}
		p, _, err := Likely(in, o)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		ratios = append(ratios, apart(truth, p)/best)
	}
	return ratios
}

// TestDegradedPiecesOfManyDesigns: three variants that are degraded anywhere, at the same places too, against the best
// single one of them, which the user cannot know. Where two of three have lost the same wood, or dried the same way, the
// third is outvoted; that the fuller ones count mends the first.
func TestDegradedPiecesOfManyDesigns(t *testing.T) {
	for name, c := range map[string]struct {
		o            LikelyOptions
		wins, median float64
	}{
		"the majority": {LikelyOptions{}, 0.6, 0.9},
		"the fuller":   {LikelyOptions{Worn: true}, 0.8, 0.55},
	} {
		ratios, wins := nearness(t, c.o), 0
		for _, r := range ratios {
			if r < 1 {
				wins++
			}
		}
		share, mid := float64(wins)/float64(len(ratios)), median(ratios)
		t.Logf("%s: better than the best single piece in %.0f %%, median ratio %.2f", name, 100*share, mid)
		if share < c.wins || mid > c.median {
			t.Errorf("%s: better in %.0f %%, median ratio %.2f; want %.0f %% and %.2f", name, 100*share, mid, 100*c.wins, c.median)
		}
	}
}

// TestTheFullerCountsOnlyBeyondTheHand: pieces of an unsteady hand are not all taken at their largest.
func TestTheFullerCountsOnlyBeyondTheHand(t *testing.T) {
	r := dice(4)
	var in []Piece
	for range 8 {
		s := baluster()
		for i := range s {
			by := r.NormFloat64() * 0.4
			s[i].d0, s[i].d1 = s[i].d0+by, s[i].d1+by
			if s[i].mid > 0 {
				s[i].mid += by
			}
		}
		in = append(in, Piece{Pattern: pattern(s)})
	}
	truth := pattern(baluster())
	plain, _, err := Likely(in, LikelyOptions{})
	if err != nil {
		t.Fatal(err)
	}
	worn, _, err := Likely(in, LikelyOptions{Worn: true})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := distance(truth, plain), distance(truth, worn); b > a+0.1 {
		t.Errorf("of an unsteady hand: %.3f mm from the design, with the fuller ones %.3f mm", a, b)
	}
}
