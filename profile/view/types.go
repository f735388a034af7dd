package view

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

// Camera is a pinhole with two radial distortion terms. Lengths are in pixels; pixel (0, 0) is
// the centre of the top-left pixel of the upright picture. A point at ideal normalised
// coordinates (x, y), r² = x² + y², is seen at (Cx + F x d, Cy + F y d), d = 1 + K1 r² + K2 r⁴.
type Camera struct {
	F      float64 `json:"f"`
	Cx     float64 `json:"cx"`
	Cy     float64 `json:"cy"`
	K1     float64 `json:"k1,omitempty"`
	K2     float64 `json:"k2,omitempty"`
	Width  int     `json:"width"`
	Height int     `json:"height"`
}

// Pose takes points of the reference plane's frame (z = 0 is the plane, z grows towards the
// camera, mm) to the camera's frame (x right, y down, z forward): Xc = R Xw + T.
type Pose struct {
	R [3][3]float64 `json:"r"`
	T r3.Vec        `json:"t"`
}

// Line is the turning axis in the camera's frame: P is the station x = 0 (mm), E the unit
// vector towards growing x.
type Line struct {
	P r3.Vec `json:"p"`
	E r3.Vec `json:"e"`
}

// Board is one printed scale board as found: the inner corners of Rows x Cols squares in pixels,
// Corners[row][col] with Rows-1 rows of Cols-1, starting next to the black top-left square.
type Board struct {
	Rows    int        `json:"rows"`
	Cols    int        `json:"cols"`
	Square  float64    `json:"square"` // side of a square, mm
	Corners [][]r2.Vec `json:"corners"`
	Sigma   float64    `json:"sigma"` // standard deviation of one corner coordinate, px
}

// Rule is a graduated rule as read: graduation i stands at T[i] mm along the rule and P[i] px.
type Rule struct {
	T     []float64 `json:"t"`
	P     []r2.Vec  `json:"p"`
	Sigma float64   `json:"sigma"` // standard deviation of one position along the rule, px
}

// EdgePoint is one located point of the silhouette.
type EdgePoint struct {
	P     r2.Vec        `json:"p"`     // px
	N     r2.Vec        `json:"n"`     // unit normal, out of the piece
	Sigma float64       `json:"sigma"` // standard deviation along N, px
	State profile.State `json:"state"`
}

// Outline is what the camera saw of the piece, in pixels of the upright picture.
type Outline struct {
	// Axis is the rough axis; Axis[0] is the end the story stick hooks over.
	Axis [2]r2.Vec `json:"axis"`
	// Sides are the two edges of the silhouette, each ordered from the Axis[0] end to the other.
	// Looking along Axis[0] -> Axis[1] in the picture (y down), Sides[0] lies on the left, Sides[1] on the right.
	// Points follow the contour about one pixel apart, steep shoulder faces included.
	Sides [2][]EdgePoint `json:"sides"`
	// Ends are points on the outlines of the two end faces, from side 0 to side 1.
	Ends [2][]EdgePoint `json:"ends"`
	// Quality is the self-check: see the fields of Quality.
	Quality Quality `json:"quality"`
}

// Quality says how far an outline can be trusted.
type Quality struct {
	WeakFraction float64  `json:"weak"`    // share of the edge whose contrast is within its noise
	Asymmetry    float64  `json:"asym"`    // robust spread of the difference of the two half-widths, px
	Support      float64  `json:"support"` // mean contrast across the edge over its noise
	Warnings     []string `json:"warnings,omitempty"`
}

// HeightMode says how the axis lies over the reference plane.
type HeightMode string

// The ways an axis can lie over the reference plane.
const (
	Lies   HeightMode = "lies"   // put down freely on the plane: the axis tilts
	Level  HeightMode = "level"  // parallel to the plane, resting on its largest radius
	Raised HeightMode = "raised" // the axis lies in the plane of the reference
	Fixed  HeightMode = "fixed"  // parallel at a stated height
)

// Height is the axis height over the reference plane. The zero value means Lies.
type Height struct {
	Mode  HeightMode `json:"mode,omitempty"`
	Value float64    `json:"value,omitempty"` // mm, for Fixed
}

// RuleMarks are two graduations that the user pointed at and the distance between them.
type RuleMarks struct {
	P      r2.Vec  `json:"p"`      // px
	Q      r2.Vec  `json:"q"`      // px
	Length float64 `json:"length"` // mm
}

// KnownDiameter is a caliper reading: diameter D (mm) at station X (mm).
type KnownDiameter struct {
	X float64 `json:"x"`
	D float64 `json:"d"`
}

// Hints is what the user says about a photograph. The zero value asks for everything to be found.
type Hints struct {
	Axis    *[2]r2.Vec      `json:"axis,omitempty"`   // rough ends in px; the first is x = 0
	Boards  bool            `json:"boards,omitempty"` // boards are in the picture: fail if none is found
	Square  float64         `json:"square,omitempty"` // measured side of a board square, mm; 0 means 10
	Rule    *RuleMarks      `json:"rule,omitempty"`
	Known   []KnownDiameter `json:"known,omitempty"`
	Length  float64         `json:"length,omitempty"` // overall length, mm; 0 = unknown
	Height  Height          `json:"height,omitempty"`
	Focal35 float64         `json:"focal35,omitempty"` // 35 mm equivalent focal length, mm; 0 = from the calibration or the photo
	// Corrections are what the user puts right of the outline, in order.
	Corrections []Correction `json:"corrections,omitempty"`
	// Calibration counts for photos of its camera; nil = none.
	Calibration *Calibration `json:"calibration,omitempty"`
}

// Sighting is everything vision reads from a photograph: pixels only, no millimetres of the piece.
type Sighting struct {
	Width   int     `json:"width"`
	Height  int     `json:"height"`
	Focal35 float64 `json:"focal35,omitempty"` // from the photo, mm; 0 = unknown
	Make    string  `json:"make,omitempty"`
	Model   string  `json:"model,omitempty"`
	// Orientation is how the photo was turned to stand upright; 0 = not at all.
	Orientation Orientation `json:"orientation,omitempty"`
	Boards      []Board     `json:"boards,omitempty"`
	Rule        *Rule       `json:"rule,omitempty"`
	Outline     Outline     `json:"outline"`
}

// Scene is all that is needed to say where a solid of revolution appears in the picture.
type Scene struct {
	Camera Camera `json:"camera"`
	Plane  Pose   `json:"plane"`
	Axis   Line   `json:"axis"`
	// SigmaF is the standard deviation of the focal length as a fraction of it; SigmaScale that of
	// the scale at the axis as a fraction.
	SigmaF     float64 `json:"sigmaF"`
	SigmaScale float64 `json:"sigmaScale"`
}

// SquareStretch is a stretch of a piece that the outline shows to be square.
type SquareStretch struct {
	X0   float64 `json:"x0"` // stations of its ends, mm
	X1   float64 `json:"x1"`
	Side float64 `json:"side"` // mm
	Roll float64 `json:"roll"` // about the axis, radians, as Projector.Look takes it
}

// Measurement is a measured piece: the scene it was seen in, its outline and its trace in mm.
type Measurement struct {
	Scene   Scene         `json:"scene"`
	Outline Outline       `json:"outline"`
	Trace   profile.Trace `json:"trace"`
	// Squares are the square stretches, by station; the trace reads half their side there.
	Squares []SquareStretch `json:"squares,omitempty"`
	Notes   []string        `json:"notes,omitempty"` // what the user should know, in plain words
}
