package app

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// frame is all that one drawing of the tracks needs: a value, so that the drawing goroutine shares nothing.
type frame struct {
	photo    *pyramid // nil = no photograph
	scene    view.Scene
	outline  view.Outline
	trace    profile.Trace
	pattern  profile.Pattern
	stations []profile.Station
	scope    scope
	bands    bands
	width    float64 // of the tracks, units
	colours  palette
	unit     profile.Unit
	selected int
	hot      grip // under the pointer or being dragged
	cursor   float64
	weak     []weakness // of the elements; nil = none is known
	hand     point      // the pointer while it drags
	reading  string     // the number that it changes; empty = nothing is being dragged

	profileScale float64 // units a mm across the profile track
}

// band is the part of the height that a track has, units.
type band struct{ top, height float64 }

func (b band) mid() float64         { return b.top + b.height/2 }
func (b band) bottom() float64      { return b.top + b.height }
func (b band) holds(y float64) bool { return y >= b.top && y < b.top+b.height }

// bands are the three tracks one above the other, with the ruler between the profile and the stick, and the overview bar
// at the foot.
type bands struct{ photo, profile, ruler, stick, overview band }

const (
	rulerHeight = 26
	gapHeight   = 6
)

// split divides the height among the tracks; without a photograph its share goes to the profile.
func split(height float64, photo bool) bands {
	free := height - rulerHeight - overviewHeight - 4*gapHeight
	shares := [3]float64{0.36, 0.36, 0.28}
	if !photo {
		shares = [3]float64{0, 0.62, 0.38}
	}
	var b bands
	y := 0.0
	next := func(h float64) band {
		t := band{y, h}
		y += h + gapHeight
		return t
	}
	b.photo = next(free * shares[0])
	b.profile = next(free * shares[1])
	b.ruler = next(rulerHeight)
	b.stick = next(free * shares[2])
	b.overview = next(overviewHeight)
	return b
}

// axisPixel returns where station x of the axis stands in the photograph, px.
func (f frame) axisPixel(x float64) (r2.Vec, bool) {
	return f.scene.Camera.Project(r3.Add(f.scene.Axis.P, r3.Scale(x, f.scene.Axis.E)))
}

// across returns the unit vector across the axis in the photograph (towards side 0, the left of the direction of
// growing x) and how many px a millimetre takes there, at station x.
func (f frame) across(x float64) (dir r2.Vec, perMM float64, ok bool) {
	a, okA := f.axisPixel(x - 0.5)
	b, okB := f.axisPixel(x + 0.5)
	if !okA || !okB {
		return r2.Vec{}, 0, false
	}
	t := r2.Sub(b, a)
	n := r2.Norm(t)
	if n == 0 {
		return r2.Vec{}, 0, false
	}
	depth := f.scene.Axis.P.Z + x*f.scene.Axis.E.Z
	return r2.Vec{X: t.Y / n, Y: -t.X / n}, f.scene.Camera.F / depth, true
}
