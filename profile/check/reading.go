package check

import (
	"fmt"
	"math"

	"spindlestick/profile"
)

// Reading is a diameter read with calipers on a copy, at a station of its original.
type Reading struct {
	X    float64 `json:"x"` // mm from the original's hook end
	Side Side    `json:"side,omitempty"`
	D    float64 `json:"d"` // mm
}

// DefaultCalipers is the expanded uncertainty of a caliper reading, mm: a vernier's limits of ±0.05 mm (DIN 862) as a
// rectangular distribution, a/√3 (GUM 4.3.7), twice.
const DefaultCalipers = 2 * 0.05 / 1.7320508

// most is the longest and thickest that a piece may be, mm; larger figures are slips.
const most = 1e5

func (r Reading) validate() error {
	if !(r.D > 0 && r.D <= most) || !(r.X >= 0 && r.X <= most) {
		return fmt.Errorf("a reading of %v mm at %v mm is not possible", r.D, r.X)
	}
	if r.Side != OneSize && r.Side != HookSide && r.Side != FarSide {
		return fmt.Errorf("%q is no side of a step: write %q, %q or nothing", string(r.Side), string(HookSide), string(FarSide))
	}
	return nil
}

// Gauge is a place of the original at which calipers are laid on its copies.
type Gauge struct {
	X         float64
	Number    int // as the sheets number the station; 0 = they do not
	Side      Side
	What      string
	Diameter  float64 // the original's, mm
	Tolerance float64
	Known     bool // the original was seen there
}

// Gauges returns the places to measure in workshop order: along the piece from the hook end, the hook end's side of a
// step first.
func Gauges(original Piece, o Options) ([]Gauge, error) {
	rows, err := gaugeRows(original, o)
	if err != nil {
		return nil, err
	}
	return gaugesOf(rows), nil
}

func gaugesOf(rows []Row) []Gauge {
	var out []Gauge
	for _, r := range rows {
		out = append(out, Gauge{r.X, r.Number, r.Side, r.What, r.Original, r.Tolerance, r.Verdict != NotSeen})
	}
	return out
}

// gaugeRows are the rows of a copy on which nothing is measured yet; their U is the original's.
func gaugeRows(original Piece, o Options) ([]Row, error) {
	if err := original.validate(); err != nil {
		return nil, err
	}
	s := &side{original, original.marks()}
	tol, err := tolerances(s.marks, o)
	if err != nil {
		return nil, err
	}
	var out []Row
	for i, m := range s.marks {
		for _, r := range rowsAt(m, m, tol[i].Diameter) {
			if r.reach {
				r.U /= math.Sqrt2 // of one of the two that a row compares
				out = append(out, r)
			}
		}
	}
	return out, nil
}

// likelyShare is by how much of the original's diameter a reading may differ before it is taken for a slip: a half, which
// no copy does and a wrong unit or a lost digit does.
const likelyShare = 0.5

// Accept says whether d mm may be a reading there, and what is wrong with it.
func (g Gauge) Accept(d float64) error {
	if err := (Reading{g.X, g.Side, d}).validate(); err != nil {
		return err
	}
	if math.Abs(d-g.Diameter) > likelyShare*g.Diameter {
		return fmt.Errorf("%s mm where the original has %s mm: look at the figure and its unit",
			profile.FormatLength(d, profile.MM), profile.FormatLength(g.Diameter, profile.MM))
	}
	return nil
}

// Put returns the piece with d mm read at gauge i of its original's; 0 takes the reading back.
func (p Piece) Put(gauges []Gauge, i int, d float64) Piece {
	g, k := gauges[i], assign(gauges, p.Readings)[i]
	p.Readings = append([]Reading(nil), p.Readings...)
	switch {
	case k >= 0 && d == 0:
		p.Readings = append(p.Readings[:k], p.Readings[k+1:]...)
	case k >= 0:
		p.Readings[k] = Reading{g.X, g.Side, d}
	case d != 0:
		p.Readings = append(p.Readings, Reading{g.X, g.Side, d})
	}
	return p
}

// compareReadings holds a copy's readings against the original, like with like.
func compareReadings(original, made Piece, o Options) (Report, error) {
	rows, err := gaugeRows(original, o)
	if err != nil {
		return Report{}, err
	}
	r := Report{Original: original, Copy: made, Alignment: "stations, read with calipers", Tolerance: o.Tolerance.over(DefaultTolerance())}
	taken := assign(gaugesOf(rows), made.Readings)
	used := map[int]bool{}
	for i, row := range rows {
		var v *Reading
		if k := taken[i]; k >= 0 {
			v, used[k] = &made.Readings[k], true
		}
		r.Stations = append(r.Stations, read(row, v, o.Calipers))
	}
	for k, v := range made.Readings {
		if !used[k] {
			r.Stray = append(r.Stray, v)
		}
	}
	return r, nil
}

// assign gives every gauge the index of the reading that lies nearest to it and nearer to it than to any other, as the
// pattern may have changed a little since it was read; -1 = none.
func assign(gauges []Gauge, readings []Reading) []int {
	out := make([]int, len(gauges))
	for i := range out {
		out[i] = -1
	}
	away := func(i, k int) float64 { return math.Abs(gauges[i].X - readings[k].X) }
	for k, v := range readings {
		best := -1
		for i, g := range gauges {
			if g.Side == v.Side && away(i, k) <= nearStation && (best < 0 || away(i, k) < away(best, k)) {
				best = i
			}
		}
		if best >= 0 && (out[best] < 0 || away(best, k) < away(best, out[best])) {
			out[best] = k
		}
	}
	return out
}

// read fills a row with its reading.
func read(row Row, v *Reading, calipers float64) Row {
	if calipers == 0 {
		calipers = DefaultCalipers
	}
	own := row.U
	row.Deviation, row.U = 0, 0
	if v == nil {
		row.Copy, row.Absent, row.Verdict = 0, true, NotMeasured
		return row
	}
	row.Copy, row.Deviation, row.U = v.D, v.D-row.Original, math.Hypot(own, calipers)
	if row.Verdict != NotSeen {
		row.Verdict = judge(row.Deviation, row.U, row.Tolerance)
	}
	return row
}
