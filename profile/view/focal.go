package view

import (
	"fmt"
	"math"
)

// Focal is what is known of the focal length before the reference is looked at.
type Focal struct {
	F35   float64 // 35 mm equivalent, mm
	Sigma float64 // standard deviation as a fraction of it
	Note  string  // where it comes from, when the user should know
	Lens  *Lens   // from a calibration; nil = a typical lens
}

const (
	// Photos in the wild state equivalents of 177, 311 and 30 000 mm for phones; a lens outside these
	// limits is not used to photograph a turning.
	shortestFocal, longestFocal = 10, 300
	// lensTruth is how far a lens is from the number engraved on it, as a fraction: marks are rounded to a
	// series, and focusing close moves the lens out (common practice, no source).
	lensTruth = 0.015
	// rounding is the standard deviation of a value rounded to whole mm: 1/sqrt(12).
	rounding = 0.2886751345948129
	// statedSigma is the trust in a focal length the user types, as a fraction.
	statedSigma = 0.01
	// assumedFocal stands in when nothing is known: between a phone's 26 mm and a portrait lens' 85 mm, which
	// are about one standard deviation away on either side.
	assumedFocal, assumedSigma = 40, 0.4
)

// ChooseFocal returns the focal length to work with: the user's if there is one, otherwise the photo's if it is
// credible, otherwise an assumption that the note states. Both are 35 mm equivalents in mm, 0 = unknown.
func ChooseFocal(photo, user float64) Focal {
	if plausibleFocal(user) {
		return Focal{F35: user, Sigma: statedSigma}
	}
	if plausibleFocal(photo) {
		return Focal{F35: photo, Sigma: math.Hypot(lensTruth, rounding/photo)}
	}
	why := "The photo does not say its focal length"
	if photo != 0 {
		why = fmt.Sprintf("The photo states a focal length of %g mm, which cannot be right", photo)
	}
	if user != 0 {
		why = fmt.Sprintf("A focal length of %g mm cannot be right", user)
	}
	return Focal{F35: assumedFocal, Sigma: assumedSigma,
		Note: fmt.Sprintf("%s: %d mm is assumed, give or take %.0f %%. State the 35 mm equivalent for better results.", why, assumedFocal, 100*assumedSigma)}
}

func plausibleFocal(f float64) bool { return f >= shortestFocal && f <= longestFocal }

// orAssumed returns f, or the assumption when f is the zero value.
func (f Focal) orAssumed() Focal {
	if f.F35 == 0 {
		return ChooseFocal(0, 0)
	}
	return f
}

// contradicted is the note on a focal length that the scale shows otherwise, mm.
func (f Focal) contradicted(shown float64) string {
	if f.Lens != nil {
		return fmt.Sprintf("The camera was measured at %.3g mm (35 mm equivalent) but the scale shows %.3g mm: the scale is believed. Zoomed or focused otherwise, measure the camera again.", f.F35, shown)
	}
	return fmt.Sprintf("The focal length is stated as %.3g mm (35 mm equivalent) but the scale shows %.3g mm: the scale is believed. The photo may be cropped.", f.F35, shown)
}
