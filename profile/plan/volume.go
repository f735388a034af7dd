package plan

import (
	"math"

	"spindlestick/profile"
)

// volumeSteps is how many equal slices an element is cut into: Simpson's rule is exact for cylinders and cones, and for
// a bead this many leave less than a part in ten thousand.
const volumeSteps = 200

// volume is the finished piece's, mm³.
func volume(p profile.Pattern) float64 {
	sum := 0.0
	for _, e := range p.Elements {
		h := e.Length() / volumeSteps
		for i := range volumeSteps {
			x := e.X0 + float64(i)*h
			sum += h / 6 * (area(e, x) + 4*area(e, x+h/2) + area(e, x+h))
		}
	}
	return sum
}

// area is an element's cross-section at a station, mm².
func area(e profile.Element, x float64) float64 {
	switch e.Kind {
	case profile.Square:
		return e.Side * e.Side
	case profile.Shoulder:
		return rounded(e.Side, e.At(x)/2)
	}
	r := e.At(x) / 2
	return math.Pi * r * r
}

// rounded is the area that a square of side s and a circle of radius r about its middle share: the circle less the four
// segments beyond the flats.
func rounded(s, r float64) float64 {
	switch {
	case r <= s/2:
		return math.Pi * r * r
	case r >= s/math.Sqrt2:
		return s * s
	}
	half := math.Acos(s / 2 / r)
	return math.Pi*r*r - 4*r*r*(half-math.Sin(half)*math.Cos(half))
}

// Weight of the wood, kg; zero where the species' density is not known.
type Weight struct {
	Volume, BlankVolume float64 // mm³
	Piece, Blank        float64 // kg, at 12 % moisture
}

func weigh(p profile.Pattern, b Blank, s Species) Weight {
	const perKg = 1e9 // mm³ in a cubic metre
	w := Weight{Volume: volume(p), BlankVolume: b.Side * b.Side * b.Length}
	w.Piece = w.Volume / perKg * s.density()
	w.Blank = w.BlankVolume / perKg * s.density()
	return w
}
