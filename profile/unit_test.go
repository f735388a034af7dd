package profile_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile"
)

// lengths feed the test and seed the fuzz target. 1 in = 25.4 mm exactly (international yard and pound agreement of
// 1959); 1/64 in = 0.396875 mm.
var lengths = []struct {
	text string
	bare profile.Unit
	mm   float64
}{
	{"35", profile.MM, 35}, {"35mm", profile.Inch, 35}, {"3.5 cm", profile.MM, 35}, {"0.45m", profile.MM, 450},
	{"1.375in", profile.MM, 34.925}, {"1.375", profile.Inch, 34.925}, {"1 3/8", profile.MM, 34.925},
	{`1 3/8"`, profile.MM, 34.925}, {"1-3/8 in", profile.MM, 34.925}, {"11 13/16in", profile.MM, 300.0375},
	{"1/64", profile.MM, 0.396875}, {"12,5 mm", profile.MM, 12.5}, {"  2 inches ", profile.MM, 50.8}, {"300MM", profile.MM, 300},
}

func TestParseLength(t *testing.T) {
	for _, c := range lengths {
		got, err := profile.ParseLength(c.text, c.bare)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		within(t, c.text, got, c.mm, 1e-9)
	}
	for _, bad := range []string{"", "mm", "one", "1/0", "3/", "/4", "1 2 3/4", "NaN", "inf", "0x10", "1e9", "1_000", "--3", "3 apples"} {
		if v, err := profile.ParseLength(bad, profile.MM); !errors.Is(err, profile.ErrLength) {
			t.Errorf("%q was read as %v (%v)", bad, v, err)
		}
	}
}

func TestFormatFraction(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		den  int64
		want string
	}{
		{34.925, 64, "1 3/8"}, {0.396875, 64, "1/64"}, {50.8, 32, "2"}, {0, 64, "0"}, {25.39, 64, "1"}, {-12.7, 16, "-1/2"}, {300.0375, 64, "11 13/16"},
	} {
		if got := profile.FormatFraction(c.mm, c.den); got != c.want {
			t.Errorf("%v mm to 1/%d = %q, want %q", c.mm, c.den, got, c.want)
		}
	}
}

// TestLengthRoundTrip: what is written in any unit reads back within half its last digit.
func TestLengthRoundTrip(t *testing.T) {
	half := map[profile.Unit]float64{profile.MM: 0.005, profile.Inch: 0.0127, profile.Fraction: 0.1984375}
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(0.5, 2500).Draw(t, "mm")
		for u, tol := range half {
			got, err := profile.ParseLength(profile.FormatLength(mm, u)+u.Suffix(), profile.MM)
			if err != nil {
				t.Fatal(err)
			}
			within(t, string(u), got, mm, tol+1e-9)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, c := range lengths {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if v, err := profile.ParseLength(s, profile.MM); err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%q read as %v", s, v)
		}
	})
}
