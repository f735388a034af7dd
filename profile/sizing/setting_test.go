package sizing

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// fewest is the least number of settings, by trying every way to divide the cuts.
func fewest(cuts []Cut, group float64) int {
	if len(cuts) == 0 {
		return 0
	}
	first, rest := cuts[0], cuts[1:]
	least := math.MaxInt
	for with := range 1 << len(rest) {
		high, low := first.Diameter, bears(first, group)
		var others []Cut
		for i, c := range rest {
			if with>>i&1 == 0 {
				others = append(others, c)
				continue
			}
			high, low = math.Max(high, c.Diameter), math.Min(low, bears(c, group))
		}
		if high <= low+1e-9 {
			least = min(least, 1+fewest(others, group))
		}
	}
	return least
}

// TestFewestSettings compares with all ways to divide the cuts.
func TestFewestSettings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var cuts []Cut
		for range rapid.IntRange(1, 7).Draw(t, "cuts") {
			place := rapid.SampledFrom([]Place{AtMark, Across, Top}).Draw(t, "place")
			cuts = append(cuts, Cut{Place: place, Diameter: rapid.Float64Range(20, 22).Draw(t, "diameter")})
		}
		group := rapid.SampledFrom([]float64{0, 0.05, 0.3, 0.5, 1}).Draw(t, "group")
		got := settings(cuts, group)
		if want := fewest(cuts, group); len(got) != want {
			t.Errorf("%d settings, %d do", len(got), want)
		}
		for i, s := range got {
			if (s.Letter != "") != (len(s.Cuts) > 1) {
				t.Errorf("a setting of %d cuts has the letter %q", len(s.Cuts), s.Letter)
			}
			for _, k := range s.Cuts {
				c := cuts[k]
				if c.Setting != i || s.Diameter < c.Diameter || s.Diameter > bears(c, group)+1e-9 {
					t.Errorf("set to %v for a %s cut of %v", s.Diameter, c.Place, c.Diameter)
				}
			}
		}
	})
}

// TestABeadIsLeftForSandingAlone: it does not share a setting that leaves it half a millimetre.
func TestABeadIsLeftForSandingAlone(t *testing.T) {
	cuts := []Cut{{Place: Top, Diameter: 30}, {Place: AtMark, Diameter: 30.4}, {Place: Across, Diameter: 30.08}}
	got := settings(cuts, UsualGroup)
	if len(got) != 2 || got[0].Diameter != 30.4 || got[1].Diameter != 30.08 || len(got[1].Cuts) != 2 || got[1].Letter != "a" {
		t.Errorf("%+v", got)
	}
}

func TestLetters(t *testing.T) {
	for n, want := range map[int]string{0: "a", 25: "z", 26: "aa", 27: "bb"} {
		if got := letter(n); got != want {
			t.Errorf("letter %d is %q, want %q", n, got, want)
		}
	}
}
