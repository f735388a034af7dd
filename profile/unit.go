package profile

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// MMPerInch is the international inch (exact since 1959).
const MMPerInch = 25.4

// Unit is a way to write a length.
type Unit string

// The units that lengths are shown in.
const (
	MM       Unit = "mm"
	Inch     Unit = "in"       // decimal inches
	Fraction Unit = "fraction" // inches and binary fractions
)

// finestFraction is the finest denominator a turner's rule shows.
const finestFraction = 64

// ErrLength is wrapped by the errors of ParseLength.
var ErrLength = errors.New("not a length")

// ParseLength reads a length and returns mm: "35", "35mm", "3.5 cm", "1.375in", `1 3/8"`, "11 13/16in", "1-3/8".
// A number without a unit is in the unit given; with a fraction it is inches.
func ParseLength(s string, bare Unit) (float64, error) {
	text := strings.ToLower(strings.TrimSpace(s))
	number, perUnit := cutUnit(text, bare)
	v, fraction, err := parseNumber(number)
	if err != nil {
		return 0, fmt.Errorf("%q is %w: write it like 35mm, 3.5cm, 1.375in or 1 3/8in", s, ErrLength)
	}
	if fraction && number == text {
		perUnit = MMPerInch
	}
	return v * perUnit, nil
}

// cutUnit splits the unit off the end and returns what one of it is in mm.
func cutUnit(text string, bare Unit) (string, float64) {
	units := []struct {
		name string
		mm   float64
	}{{"inches", MMPerInch}, {"inch", MMPerInch}, {"in", MMPerInch}, {`"`, MMPerInch}, {"″", MMPerInch}, {"mm", 1}, {"cm", 10}, {"m", 1000}}
	for _, u := range units {
		if rest, ok := strings.CutSuffix(text, u.name); ok {
			return strings.TrimSpace(rest), u.mm
		}
	}
	if bare == MM || bare == "" {
		return text, 1
	}
	return text, MMPerInch
}

// parseNumber reads "1.375", "1,375", "3/8", "1 3/8" or "1-3/8".
func parseNumber(s string) (v float64, fraction bool, err error) {
	fail := errors.New("not a number")
	s = strings.ReplaceAll(s, ",", ".")
	head, tail, slash := strings.Cut(s, "/")
	if !slash {
		return plain(s)
	}
	whole := 0.0
	if i := strings.LastIndexAny(head, " -"); i > 0 {
		if whole, _, err = plain(strings.TrimSpace(head[:i])); err != nil {
			return 0, true, fail
		}
		head = head[i+1:]
	}
	num, err1 := strconv.ParseUint(strings.TrimSpace(head), 10, 31)
	den, err2 := strconv.ParseUint(strings.TrimSpace(tail), 10, 31)
	if err1 != nil || err2 != nil || den == 0 || whole < 0 {
		return 0, true, fail
	}
	return whole + float64(num)/float64(den), true, nil
}

func plain(s string) (float64, bool, error) {
	// ParseFloat would also take "inf", "nan", hexadecimal and underscores.
	if s == "" || strings.Trim(s, "+-.0123456789") != "" {
		return 0, false, errors.New("not a number")
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, false, err
}

// FormatLength writes mm in the unit, without its name: two decimals of mm, three of inches, or the nearest 1/64 inch.
func FormatLength(mm float64, u Unit) string {
	switch u {
	case Inch:
		return strconv.FormatFloat(mm/MMPerInch, 'f', 3, 64)
	case Fraction:
		return FormatFraction(mm, finestFraction)
	}
	return strconv.FormatFloat(mm, 'f', 2, 64)
}

// FormatFraction writes mm as inches and the nearest 1/den inch in lowest terms: "1 3/8", "3/64", "2", "0".
func FormatFraction(mm float64, den int64) string {
	n := int64(math.Round(mm / MMPerInch * float64(den)))
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, rest := n/den, n%den
	if rest == 0 {
		return sign + strconv.FormatInt(whole, 10)
	}
	f := big.NewRat(rest, den).String()
	if whole == 0 {
		return sign + f
	}
	return sign + strconv.FormatInt(whole, 10) + " " + f
}

// Suffix is what follows a number in this unit.
func (u Unit) Suffix() string {
	if u == Inch || u == Fraction {
		return "in"
	}
	return "mm"
}

// FormatCompact writes a number with no more than three decimals and no trailing zeros: "120", "0.125".
func FormatCompact(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}
