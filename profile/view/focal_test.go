package view

import (
	"math"
	"testing"
)

func TestChooseFocal(t *testing.T) {
	for _, c := range []struct {
		name        string
		photo, user float64
		want, sigma float64
		note        bool
	}{
		{"the photo's, whole mm", 26, 0, 26, math.Hypot(0.015, 1/math.Sqrt(12)/26), false},
		{"the user's overrides", 26, 28.5, 28.5, 0.01, false},
		{"nothing known", 0, 0, 40, 0.4, true},
		{"as phones in the wild state it", 30000, 0, 40, 0.4, true},
		{"311 mm", 311, 0, 40, 0.4, true},
		{"not a number", math.NaN(), 0, 40, 0.4, true},
		{"a slip of the user falls back on the photo", 26, 2, 26, math.Hypot(0.015, 1/math.Sqrt(12)/26), false},
		{"negative", 0, -50, 40, 0.4, true},
	} {
		f := ChooseFocal(c.photo, c.user)
		if f.F35 != c.want || math.Abs(f.Sigma-c.sigma) > 1e-12 || (f.Note != "") != c.note {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}
