package check

import (
	"fmt"
	"math"
)

// Verdict says whether a copy keeps to a tolerance.
type Verdict string

// The verdicts.
const (
	Inside  Verdict = "inside"
	Outside Verdict = "outside"
	Unsure  Verdict = "too close to tell"
	NotSeen Verdict = "not seen" // one of the two pieces is hidden, damaged or absent there
	// NotMeasured is of copies that are read with calipers.
	NotMeasured Verdict = "not yet measured"
)

// Claims reports whether a verdict says anything about the deviation.
func (v Verdict) Claims() bool { return v != NotSeen && v != NotMeasured }

// judge compares a deviation with a tolerance. The uncertainty narrows the zone in which a copy is called good, and widens
// the one outside which it is called bad (guard bands as ISO 14253-1 introduces them, with g = U on both sides, from memory).
func judge(deviation, u, tolerance float64) Verdict {
	switch d := math.Abs(deviation); {
	case d+u <= tolerance:
		return Inside
	case d-u > tolerance:
		return Outside
	}
	return Unsure
}

// Tolerance is how far a copy may leave its original either way, mm. Zero fields take the default.
type Tolerance struct {
	Diameter float64 `json:"diameter"`
	Station  float64 `json:"station"` // of positions along the axis
}

// DefaultTolerance is common practice, no source: half a millimetre of diameter is about what calipers, tool and sandpaper
// leave between two hands, and a millimetre of place is not noticed beside the original.
func DefaultTolerance() Tolerance { return Tolerance{Diameter: 0.5, Station: 1} }

// Exception is the tolerance of one station of the original.
type Exception struct {
	X float64 // mm from the hook end of the original
	Tolerance
}

func (t Tolerance) over(base Tolerance) Tolerance {
	if t.Diameter == 0 {
		t.Diameter = base.Diameter
	}
	if t.Station == 0 {
		t.Station = base.Station
	}
	return t
}

func (t Tolerance) validate() error {
	for _, v := range []float64{t.Diameter, t.Station} {
		if !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("check: a tolerance of %v mm is not above zero", v)
		}
	}
	return nil
}

// tolerances gives each of the original's stations its tolerance.
func tolerances(marks []mark, o Options) ([]Tolerance, error) {
	base := o.Tolerance.over(DefaultTolerance())
	out := make([]Tolerance, len(marks))
	for i := range out {
		out[i] = base
	}
	for _, e := range o.Exceptions {
		near := nearest(marks, e.X)
		if near < 0 || math.Abs(marks[near].x-e.X) > nearStation {
			return nil, fmt.Errorf("check: the original has no station within %.0f mm of %.2f mm to give a tolerance", nearStation, e.X)
		}
		for i, m := range marks {
			if m.x == marks[near].x {
				out[i] = e.Tolerance.over(base)
			}
		}
	}
	for _, t := range append(out, base) {
		if err := t.validate(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// nearest returns the station nearest to x, -1 without any.
func nearest(marks []mark, x float64) int {
	near := -1
	for i, m := range marks {
		if near < 0 || math.Abs(m.x-x) < math.Abs(marks[near].x-x) {
			near = i
		}
	}
	return near
}
