package sheet

import (
	"math"
	"sort"
	"testing"

	"pgregory.net/rapid"
)

func TestSpread(t *testing.T) {
	for name, c := range map[string]struct {
		want, width []float64
		lo, hi      float64
		at          []float64
	}{
		"apart already":         {[]float64{1, 5, 9}, []float64{2, 2, 2}, 0, 10, []float64{1, 5, 9}},
		"two at one place":      {[]float64{5, 5}, []float64{2, 2}, 0, 10, []float64{4, 6}},
		"pushed from the left":  {[]float64{0, 0}, []float64{2, 2}, 0, 10, []float64{1, 3}},
		"pushed from the right": {[]float64{9.5, 10}, []float64{2, 2}, 0, 10, []float64{7, 9}},
		"just full":             {[]float64{0, 0, 0}, []float64{2, 3, 5}, 0, 10, []float64{1, 3.5, 7.5}},
		"none":                  {nil, nil, 0, 10, nil},
	} {
		got, ok := spread(c.want, c.width, c.lo, c.hi)
		if !ok || len(got) != len(c.at) {
			t.Errorf("%s: %v, %v", name, got, ok)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.at[i]) > 1e-12 {
				t.Errorf("%s: %v, want %v", name, got, c.at)
				break
			}
		}
	}
	if _, ok := spread([]float64{1, 2}, []float64{6, 6}, 0, 10); ok {
		t.Error("12 mm of boxes found room in 10 mm")
	}
}

// TestSpreadIsBest: the places are allowed, and no small move of any run of boxes that stays allowed comes nearer to
// where they want to stand. The sum of squares is convex, so that makes it the least.
func TestSpreadIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "boxes")
		want, width := make([]float64, n), make([]float64, n)
		for i := range want {
			want[i] = rapid.Float64Range(0, 40).Draw(t, "want")
			width[i] = rapid.Float64Range(0.5, 4).Draw(t, "width")
		}
		sort.Float64s(want)
		const lo, hi = -5, 45
		at, ok := spread(want, width, lo, hi)
		if !ok {
			t.Skip("no room")
		}
		if !allowed(at, width, lo, hi) {
			t.Fatalf("not allowed: %v", at)
		}
		for i := range at {
			for j := i + 1; j <= n; j++ {
				for _, d := range []float64{-1e-3, 1e-3} {
					moved := append([]float64(nil), at...)
					for k := i; k < j; k++ {
						moved[k] += d
					}
					if allowed(moved, width, lo, hi) && cost(moved, want) < cost(at, want)-1e-9 {
						t.Fatalf("boxes %d to %d are better off %v mm along", i, j-1, d)
					}
				}
			}
		}
	})
}

func allowed(at, width []float64, lo, hi float64) bool {
	const eps = 1e-9
	for i := range at {
		if at[i]-width[i]/2 < lo-eps || at[i]+width[i]/2 > hi+eps {
			return false
		}
		if i > 0 && at[i]-at[i-1] < (width[i]+width[i-1])/2-eps {
			return false
		}
	}
	return true
}

func cost(at, want []float64) float64 {
	sum := 0.0
	for i := range at {
		sum += (at[i] - want[i]) * (at[i] - want[i])
	}
	return sum
}
