package profile

import "math"

// Kind is the trade's word for the shape of an element.
type Kind string

// The kinds of element, in the words that files carry.
const (
	Square   Kind = "square"
	Shoulder Kind = "shoulder" // the transition from a square to round
	Fillet   Kind = "fillet"
	Cylinder Kind = "cylinder"
	Taper    Kind = "taper"
	Bead     Kind = "bead"
	HalfBead Kind = "half-bead"
	Cove     Kind = "cove"
	HalfCove Kind = "half-cove"
	Vee      Kind = "vee"
	Ogee     Kind = "ogee"
	Swell    Kind = "swell"
)

// Kinds returns every kind in the order a turner meets them: squares first, then straight runs, then curves.
func Kinds() []Kind {
	return []Kind{Square, Shoulder, Fillet, Cylinder, Taper, Bead, HalfBead, Cove, HalfCove, Vee, Ogee, Swell}
}

// Known reports whether k is one of Kinds.
func (k Kind) Known() bool {
	for _, o := range Kinds() {
		if o == k {
			return true
		}
	}
	return false
}

// Curved reports whether one circular arc makes the whole element.
func (k Kind) Curved() bool {
	switch k {
	case Bead, HalfBead, Cove, HalfCove, Swell:
		return true
	}
	return false
}

// Inner reports whether the element has a point inside that its ends do not give: the bottom of a vee,
// the inflection of an ogee.
func (k Kind) Inner() bool { return k == Vee || k == Ogee }

// Style is the shape of a shoulder.
type Style string

// The styles of a shoulder between a square and the round.
const (
	Straight Style = "straight"
	Quarter  Style = "quarter" // one arc
	Reversed Style = "ogee"    // two arcs, tangent
)

// Bounds are expanded uncertainties (k = 2) of an element's numbers, mm; 0 = not known.
type Bounds struct {
	X0  float64 `json:"x0,omitempty"`
	X1  float64 `json:"x1,omitempty"`
	D0  float64 `json:"d0,omitempty"`
	D1  float64 `json:"d1,omitempty"`
	Mid float64 `json:"mid,omitempty"` // of the crest, bottom or inflection diameter
}

// Element is one shape of a pattern between two stations. Diameters are finished diameters; neighbours may
// differ where they meet: that step is a square shoulder.
type Element struct {
	Kind Kind    `json:"kind"`
	X0   float64 `json:"x0"` // mm from the hook end
	X1   float64 `json:"x1"`
	D0   float64 `json:"d0"` // diameter at X0, mm; of a square: its side; of a shoulder at its square end: the square's diagonal
	D1   float64 `json:"d1"`
	// Sagitta is the height of the arc over its chord, mm, positive convex: beads, coves, swells, quarter shoulders;
	// of an ogee and an ogee shoulder, that of its first arc.
	Sagitta float64 `json:"sagitta,omitempty"`
	// InnerX and InnerD are the bottom of a vee or the inflection of an ogee, mm.
	InnerX float64 `json:"innerX,omitempty"`
	InnerD float64 `json:"innerD,omitempty"`
	Side   float64 `json:"side,omitempty"`  // of a square or shoulder: side of the square, mm
	Roll   float64 `json:"roll,omitempty"`  // of a square: its turn about the axis as photographed, radians; 0 = flat on
	Style  Style   `json:"style,omitempty"` // of a shoulder
	State  State   `json:"state,omitempty"` // empty = visible
	U      Bounds  `json:"u,omitzero"`
	// Residual is the root mean square distance of the trace from the element, mm (of radius).
	Residual float64 `json:"residual,omitempty"`
	// Confidence is how sure the kind is, from 0 to 1, as far as the trace tells kinds apart; 0 = not known. Second is the
	// next likely reading where it is close. Both follow from the trace: files carry them for readers only.
	Confidence float64 `json:"-"`
	Second     Reading `json:"-"`
}

// Reading is what an element may be taken for. The zero Reading is none.
type Reading struct {
	Kind       Kind    `json:"kind"`
	Confidence float64 `json:"confidence"` // from 0 to 1
	Residual   float64 `json:"residual"`   // root mean square distance of the trace from its best shape, mm (of radius)
}

// Length returns the element's length along the axis, mm.
func (e Element) Length() float64 { return e.X1 - e.X0 }

// Segments returns the meridian of the element from X0 to X1: one primitive, or two for a vee or an ogee.
func (e Element) Segments() []Segment {
	whole := Segment{e.X0, e.D0 / 2, e.X1, e.D1 / 2, 0}
	switch {
	case e.Kind.Curved(), e.Kind == Shoulder && e.Style == Quarter:
		whole.Sagitta = e.Sagitta
		return []Segment{whole}
	case e.Kind == Vee:
		return []Segment{{e.X0, e.D0 / 2, e.InnerX, e.InnerD / 2, 0}, {e.InnerX, e.InnerD / 2, e.X1, e.D1 / 2, 0}}
	case e.Kind == Ogee, e.Kind == Shoulder && e.Style == Reversed:
		return e.ogee()
	}
	return []Segment{whole}
}

// ogee returns the two tangent arcs: the first has the stated sagitta, the second the one that makes the
// tangents agree at the inflection.
func (e Element) ogee() []Segment {
	a := Segment{e.X0, e.D0 / 2, e.InnerX, e.InnerD / 2, e.Sagitta}
	b := Segment{e.InnerX, e.InnerD / 2, e.X1, e.D1 / 2, 0}
	chordA := math.Atan2(a.R1-a.R0, a.X1-a.X0)
	chordB := math.Atan2(b.R1-b.R0, b.X1-b.X0)
	// A convex arc leaves its chord's end turned towards the axis by half the angle it subtends.
	tangent := chordA - math.Copysign(a.Angle()/2, a.held())
	if a.Straight() {
		tangent = chordA
	}
	half := math.Max(-math.Pi/2, math.Min(math.Pi/2, tangent-chordB))
	b.Sagitta = b.Chord() / 2 * math.Tan(half/2)
	return []Segment{a, b}
}

// At returns the diameter at station x, held to the element: of a square, its side.
func (e Element) At(x float64) float64 {
	segs := e.Segments()
	for _, s := range segs {
		if x <= s.X1 {
			return 2 * s.At(x)
		}
	}
	return 2 * segs[len(segs)-1].At(x)
}

// Mid returns the station and diameter that names the element's height between its ends: the crest of a
// bead or swell, the bottom of a cove or vee, the inflection of an ogee. ok is false where there is none.
func (e Element) Mid() (x, d float64, ok bool) {
	if e.Kind.Inner() {
		return e.InnerX, e.InnerD, true
	}
	if e.Kind.Curved() {
		if x, r, ok := e.Segments()[0].Extreme(); ok {
			return x, 2 * r, true
		}
	}
	return 0, 0, false
}

// WithMid returns the element with its crest, bottom or inflection at diameter d; ok is false where the
// element has none or no arc reaches d.
func (e Element) WithMid(d float64) (Element, bool) {
	switch {
	case e.Kind.Inner():
		e.InnerD = d
		return e, d > 0
	case e.Kind.Curved():
		h, ok := e.Segments()[0].SagittaThrough(d / 2)
		if !ok {
			return e, false
		}
		e.Sagitta = h
		return e, true
	}
	return e, false
}

// Angle returns the included angle of a vee, radians, or the included (full) angle of a taper; 0 otherwise.
func (e Element) Angle() float64 {
	switch e.Kind {
	case Vee:
		s := e.Segments()
		left := math.Atan2(s[0].X1-s[0].X0, s[0].R0-s[0].R1)
		right := math.Atan2(s[1].X1-s[1].X0, s[1].R1-s[1].R0)
		return left + right
	case Taper:
		return 2 * math.Atan(math.Abs(e.D1-e.D0)/2/e.Length())
	}
	return 0
}
