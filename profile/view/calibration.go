package view

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"gonum.org/v1/gonum/spatial/r2"
)

// Calibration is what several photographs of a board showed of one camera at one setting. Pixels are those of the picture
// as the sensor delivers it, before it is turned upright. The zero value means none.
type Calibration struct {
	Make    string  `json:"make,omitempty"`
	Model   string  `json:"model"`
	Width   int     `json:"width"`
	Height  int     `json:"height"`
	Focal35 float64 `json:"focal35,omitempty"` // what the photographs state, mm: it tells a camera's lenses and zooms apart; 0 = nothing

	F  float64 `json:"f"` // px
	Cx float64 `json:"cx"`
	Cy float64 `json:"cy"`
	K1 float64 `json:"k1"`
	K2 float64 `json:"k2"`
	// The standard deviations of the above in the same units.
	SigmaF  float64 `json:"sigmaF"`
	SigmaCx float64 `json:"sigmaCx"`
	SigmaCy float64 `json:"sigmaCy"`
	SigmaK1 float64 `json:"sigmaK1"`
	SigmaK2 float64 `json:"sigmaK2"`

	Photos int     `json:"photos"`
	RMS    float64 `json:"rms"`  // root mean square distance of corners as seen and as computed, px
	Date   string  `json:"date"` // when it was made, as DateLayout
}

// DateLayout is how a calibration writes its date (ISO 8601).
const DateLayout = time.DateOnly

const (
	// refocus is the standard deviation of the focal length, as a fraction, from one photograph to the next: the lens moves
	// out by f/D of f to focus at a distance D (thin lens), which for a phone's 6 mm between 0.6 and 1.2 m is 0.5 %.
	refocus = 0.004
	// steady is the standard deviation of the lens' axis from one photograph to the next, as a fraction of the diagonal: half of
	// what it is among lenses, since stabilised ones move it on purpose (common practice, no source).
	steady = centreShare / 2
	// redistort is that of k1 as a fraction of it, for focusing, and for what two terms leave out of a lens: four of the 13
	// published photographs at a time (left01.jpg and on, of Debian's opencv-doc) give a k1 that scatters by 6 %.
	redistort = 0.06
	// sameFocal is how far two stated focal lengths may differ and be one setting, mm: they are written in whole mm.
	sameFocal = 0.25
	// largestSide bounds a picture's side, px, as OpenCV does.
	largestSide = 32767
)

// ErrCalibration is wrapped by the errors of values that are no calibration.
var ErrCalibration = errors.New("view: the camera's calibration cannot be used")

// Matches reports whether the photograph was taken by this camera in this size, upright or on its side, with this lens.
func (c Calibration) Matches(s Sighting) bool {
	same := c.Width == s.Width && c.Height == s.Height || c.Width == s.Height && c.Height == s.Width
	return same && c.Model != "" && strings.EqualFold(c.Make, s.Make) && strings.EqualFold(c.Model, s.Model) &&
		math.Abs(c.Focal35-s.Focal35) < sameFocal
}

// Check refuses values that no camera has.
func (c Calibration) Check() error {
	if err := c.check(); err != nil {
		return fmt.Errorf("%w: %w: measure the camera again", ErrCalibration, err)
	}
	return nil
}

func (c Calibration) check() error {
	for _, v := range []float64{c.Focal35, c.F, c.Cx, c.Cy, c.K1, c.K2, c.SigmaF, c.SigmaCx, c.SigmaCy, c.SigmaK1, c.SigmaK2, c.RMS} {
		if math.IsNaN(v - v) {
			return errors.New("it holds a value that is not finite")
		}
	}
	if c.Model == "" || c.Width < 1 || c.Height < 1 || c.Width > largestSide || c.Height > largestSide {
		return fmt.Errorf("it is for pictures of %d x %d px of camera %q", c.Width, c.Height, c.Model)
	}
	if f := c.camera().Focal35(); !plausibleFocal(f) {
		return fmt.Errorf("a focal length of %.4g px", c.F)
	}
	if c.Cx < 0 || c.Cy < 0 || c.Cx > float64(c.Width-1) || c.Cy > float64(c.Height-1) {
		return fmt.Errorf("a principal point of %.4g, %.4g px", c.Cx, c.Cy)
	}
	if !(c.SigmaF > 0 && c.SigmaCx > 0 && c.SigmaCy > 0 && c.SigmaK1 > 0 && c.SigmaK2 > 0) || c.RMS < 0 || c.Photos < 1 {
		return errors.New("its standard deviations are not above zero")
	}
	if !c.camera().reachesCorners() {
		return fmt.Errorf("a distortion of %.3g, %.3g, which folds the picture", c.K1, c.K2)
	}
	if _, err := time.Parse(DateLayout, c.Date); err != nil {
		return fmt.Errorf("a date of %q", c.Date)
	}
	return nil
}

func (c Calibration) camera() Camera {
	return Camera{F: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.K1, K2: c.K2, Width: c.Width, Height: c.Height}
}

// reachesCorners reports whether the distortion model reaches all of the picture.
func (c Camera) reachesCorners() bool {
	far := math.Hypot(math.Max(c.Cx, float64(c.Width-1)-c.Cx), math.Max(c.Cy, float64(c.Height-1)-c.Cy)) / c.F
	fold := c.fold()
	return math.IsInf(fold, 1) || fold*c.stretch(fold*fold) > far
}

// Words describe the calibration for people: "measured 12 November 2026 from 6 photographs, ...".
func (c Calibration) Words() string {
	day := c.Date
	if t, err := time.Parse(DateLayout, c.Date); err == nil {
		day = t.Format("2 January 2006")
	}
	return fmt.Sprintf("measured %s from %d photographs, focal length %.0f px, residual %.2f px", day, c.Photos, c.F, c.RMS)
}

// focalOf returns what is known of the focal length and the lens of a photograph: what the user says, otherwise the calibration
// if it is of this camera, otherwise what the photograph says.
func (h Hints) focalOf(s Sighting) Focal {
	c := h.Calibration
	if c == nil || plausibleFocal(h.Focal35) || !c.Matches(s) || c.Check() != nil {
		return ChooseFocal(s.Focal35, h.Focal35)
	}
	lens := c.lensOf(s)
	return Focal{
		F35: lens.Camera.Focal35(), Sigma: math.Hypot(c.SigmaF/c.F, refocus), Lens: &lens,
		Note: "Camera: " + c.Words() + ".",
	}
}

// lensOf returns the calibrated lens in the upright pixels of the photograph.
func (c Calibration) lensOf(s Sighting) Lens {
	l := Lens{Camera: c.camera(), SigmaK1: math.Hypot(c.SigmaK1, redistort*c.K1), SigmaK2: c.SigmaK2}
	found := math.Hypot(c.SigmaCx, c.SigmaCy) / math.Sqrt2
	l.SigmaCentre = math.Hypot(found, steady*math.Hypot(float64(c.Width), float64(c.Height)))
	l.Camera.Width, l.Camera.Height = s.Width, s.Height
	if w, h := s.Orientation.Size(c.Width, c.Height); w == s.Width && h == s.Height {
		p := s.Orientation.Upright(r2.Vec{X: c.Cx, Y: c.Cy}, c.Width, c.Height)
		l.Camera.Cx, l.Camera.Cy = p.X, p.Y
		return l
	}
	// A picture that another program turned: the principal point is known but for its side of the middle.
	middle := NewCamera(s.Width, s.Height, 1)
	l.Camera.Cx, l.Camera.Cy = middle.Cx, middle.Cy
	off := math.Hypot(c.Cx-float64(c.Width-1)/2, c.Cy-float64(c.Height-1)/2)
	l.SigmaCentre = math.Hypot(l.SigmaCentre, off)
	return l
}
