package vision

import (
	"fmt"
	"math"
)

// graduation is the distance of neighbouring lines on a rule.
type graduation struct {
	mm   float64
	name string
}

const inch = 25.4 // mm, exactly (international yard and pound agreement, 1959)

// graduations are those found on rules in mm and in inches, common practice, no source. Neighbouring values differ by a quarter at least, so
// that the count between two marks tells which it is.
func graduations() []graduation {
	return []graduation{
		{inch / 64, "1/64 in"}, {0.5, "0.5 mm"}, {inch / 32, "1/32 in"}, {1, "1 mm"}, {inch / 16, "1/16 in"}, {2, "2 mm"},
		{inch / 10, "1/10 in"}, {inch / 8, "1/8 in"}, {5, "5 mm"}, {inch / 4, "1/4 in"}, {10, "10 mm"}, {inch / 2, "1/2 in"}, {inch, "1 in"},
	}
}

// graduationMisfit is the most, in mm, that a stated distance may deviate from a whole number of graduations: distances are stated to 0.1 mm
// or better.
const graduationMisfit = 0.1

// graduationOf tells the graduation of a rule that shows count graduations over pixels px, which are length mm by the user's
// word. The error states both numbers if no graduation agrees.
func graduationOf(count, pixels, length float64) (graduation, error) {
	var best graduation
	off := math.Inf(1)
	for _, g := range graduations() {
		if d := math.Abs(math.Log(count * g.mm / length)); d < off {
			best, off = g, d
		}
	}
	slack := math.Sqrt2 * markSlack * count / pixels // what misplaced marks can make, in graduations
	want := length / best.mm
	if math.Abs(count-want) > math.Max(slack, 0.5) {
		return best, fmt.Errorf("%w are %.4g mm apart as stated, but the rule shows %.0f graduations between them, which would be %.4g mm at %s: check the marks and the distance",
			ErrMarks, length, count, count*best.mm, best.name)
	}
	if whole := math.Round(want); math.Abs(whole-want)*best.mm > graduationMisfit {
		return best, fmt.Errorf("%w are %.4g mm apart as stated, which is %.2f graduations of %s, while the rule shows %.0f: mark graduation lines and state their exact distance",
			ErrMarks, length, want, best.name, count)
	}
	return best, nil
}
