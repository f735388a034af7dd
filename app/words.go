package app

import (
	"math"
	"strconv"
	"strings"

	"spindlestick/profile"
)

func number(n int) string { return strconv.Itoa(n) }

// length writes a length without its unit, as profile.FormatLength does, with the user's decimal mark.
func length(mm float64, u profile.Unit) string { return local(profile.FormatLength(mm, u)) }

// decimals writes v with n decimals and the user's decimal mark.
func decimals(v float64, n int) string { return local(strconv.FormatFloat(v, 'f', n, 64)) }

// parseNumber reads a number with either decimal mark.
func parseNumber(s string) (float64, error) {
	return strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(s), ",", "."), 64)
}

// short writes a length for a narrow place: one decimal of mm, three of inches, or a fraction.
func short(mm float64, u profile.Unit) string {
	if u == profile.MM {
		return decimals(mm, 1)
	}
	return length(mm, u)
}

// long writes a length with its unit.
func long(mm float64, u profile.Unit) string {
	return length(mm, u) + " " + u.Suffix()
}

// tick is the spacing of a ruler's figures, and into how many parts each is divided.
type tick struct {
	mm    float64
	parts int
}

// tickFor chooses the closest figures that stand at least wide units apart.
func tickFor(perMM float64, u profile.Unit, wide float64) tick {
	if u == profile.MM {
		for _, t := range []tick{{1, 2}, {5, 5}, {10, 10}, {20, 4}, {50, 5}, {100, 10}, {200, 4}, {500, 5}, {1000, 10}} {
			if t.mm*perMM >= wide {
				return t
			}
		}
		return tick{math.Ceil(wide/perMM/1000) * 1000, 10}
	}
	for _, t := range []tick{{0.125, 4}, {0.25, 4}, {0.5, 8}, {1, 8}, {2, 4}, {4, 4}, {12, 12}, {24, 12}} {
		if t.mm*profile.MMPerInch*perMM >= wide {
			return tick{t.mm * profile.MMPerInch, t.parts}
		}
	}
	return tick{math.Ceil(wide/perMM/609.6) * 609.6, 12}
}
