package view

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestMedianSorts compares with the definition.
func TestMedianSorts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(-3, 3), 1, 50).Draw(t, "v")
		if rapid.Bool().Draw(t, "ties") {
			for i := range v {
				v[i] = float64(int(v[i]))
			}
		}
		sorted := slices.Clone(v)
		slices.Sort(sorted)
		want := (sorted[len(v)/2] + sorted[(len(v)-1)/2]) / 2
		if got := median(v); got != want {
			t.Fatalf("median %v, want %v", got, want)
		}
	})
}
