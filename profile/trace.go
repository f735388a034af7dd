package profile

import (
	"math"
	"sort"
)

// State says how a stretch of a trace or an element came to be known.
type State string

// The states of a stretch.
const (
	Visible  State = "visible"  // both sides of the silhouette show it
	Hidden   State = "hidden"   // neighbours stand in front of it: nothing was measured
	Damaged  State = "damaged"  // the two sides disagree, or the user says it is damaged
	Inferred State = "inferred" // nothing was measured, it follows from the elements beside it
)

// Sample is one measured point of a meridian.
type Sample struct {
	X float64 `json:"x"` // station, mm
	R float64 `json:"r"` // radius (half extent of the outline where the piece is square), mm
	U float64 `json:"u"` // expanded uncertainty (k = 2) of the DIAMETER, mm
	// Shared is the part of U that no mean over neighbouring samples makes smaller: scale, camera, height, and what moves
	// both edges alike. What the station's own uncertainty does on a slope is not in it. 0 = not told apart.
	Shared float64 `json:"shared,omitempty"`
	State  State   `json:"state"`
	// Sides are the radii that the two edges of the silhouette give by themselves, mm; NaN-free:
	// a side that shows nothing repeats R.
	Sides [2]float64 `json:"sides"`
}

// Trace is the measured meridian: samples ordered by X. Two samples may share an X: a square shoulder.
type Trace struct {
	Length  float64  `json:"length"`  // overall length, mm
	ULength float64  `json:"uLength"` // its expanded uncertainty (k = 2), mm
	Samples []Sample `json:"samples"`
}

// At returns the trace at station x by linear interpolation, and false where the trace does not reach.
// At a step the sample before it counts.
func (t Trace) At(x float64) (Sample, bool) {
	s := t.Samples
	n := len(s)
	if n == 0 || x < s[0].X || x > s[n-1].X {
		return Sample{}, false
	}
	j := sort.Search(n, func(i int) bool { return s[i].X >= x })
	if j == 0 || s[j].X == x {
		return s[j], true
	}
	a, b := s[j-1], s[j]
	w := (x - a.X) / (b.X - a.X)
	near := a
	if w > 0.5 {
		near = b
	}
	mix := func(p, q float64) float64 { return p + w*(q-p) }
	return Sample{
		X: x, R: mix(a.R, b.R), U: math.Max(a.U, b.U), Shared: math.Max(a.Shared, b.Shared), State: near.State,
		Sides: [2]float64{mix(a.Sides[0], b.Sides[0]), mix(a.Sides[1], b.Sides[1])},
	}, true
}
