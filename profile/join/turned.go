package join

import (
	"fmt"
	"math"
	"sort"

	"spindlestick/profile"
)

// Oval is what two shots of one piece, turned about its axis by a quarter between them, say of its roundness.
type Oval struct {
	Rows  []OvalRow
	Trace profile.Trace // the mean of the two
	// Median is the median difference of the diameters as a share of their mean, over the round parts; Largest
	// the row with the largest difference that exceeds its uncertainty, nil = none does.
	Median  float64
	Largest *OvalRow
	// Out is the share of the places whose difference exceeds its uncertainty.
	Out   float64
	Shift float64 // of the second shot along the axis, mm
}

// OvalRow is one station: the diameters of the two shots, mm.
type OvalRow struct {
	X          float64
	D          [2]float64
	Mean       float64
	Difference float64 // second - first
	U          float64 // of the difference, expanded (k = 2)
}

// Exceeds reports whether the two diameters differ by more than is uncertain.
func (r OvalRow) Exceeds() bool { return math.Abs(r.Difference) > r.U }

// mostMoved is how far the second shot may lie along the axis, mm: both show the hook end.
const mostMoved = 5.0

// Turned compares two shots of a whole piece, the second after a quarter turn. round says at which stations (of the
// first) the piece is turned: squares have no diameter.
func Turned(a, b Shot, round func(x float64) bool) (Oval, error) {
	for _, s := range []Shot{a, b} {
		if err := s.validate(); err != nil {
			return Oval{}, err
		}
	}
	shift := laid(a, resized(b, a))
	o := Oval{Shift: shift, Trace: profile.Trace{Length: (a.Trace.Length + b.Trace.Length) / 2, ULength: math.Hypot(a.Trace.ULength, b.Trace.ULength) / 2}}
	for _, p := range a.Trace.Samples {
		q, ok := b.Trace.At(p.X - shift)
		if !ok || p.X > o.Trace.Length {
			continue
		}
		o.Trace.Samples = append(o.Trace.Samples, mean(p, q))
		if p.State != profile.Visible || q.State != profile.Visible || !round(p.X) {
			continue
		}
		slope := math.Max(steepness(a.Trace, p.X), steepness(b.Trace, p.X-shift))
		u := math.Sqrt(p.U*p.U + q.U*q.U + 4*slope*slope*sameShot*sameShot)
		o.Rows = append(o.Rows, OvalRow{p.X, [2]float64{2 * p.R, 2 * q.R}, p.R + q.R, 2 * (q.R - p.R), u})
	}
	if len(o.Rows) == 0 {
		return o, fmt.Errorf("join: %w: %s and %s show no round part that both see", ErrShots, a.Name, b.Name)
	}
	o.judge()
	return o, nil
}

// laid is how far b lies along the axis from a, mm.
func laid(a, b Shot) float64 {
	best, most := 0.0, math.Inf(-1)
	for s := -mostMoved; s <= mostMoved; s += step {
		// Of equals the smaller move wins: a plain cylinder fits anywhere.
		if g := gain(compare(a, b, s)); g > most+1e-9 || g > most-1e-9 && math.Abs(s) < math.Abs(best) {
			best, most = s, g
		}
	}
	shift, _ := settle(a, b, best)
	return shift
}

// resized is b with the radii that a has on the whole: what is to be compared is where its steps stand, and an oval
// piece would otherwise be moved along its tapers until their diameters agree.
func resized(b, a Shot) Shot {
	var ratios []float64
	for _, q := range b.Trace.Samples {
		if p, ok := a.Trace.At(q.X); ok && q.R > 0 {
			ratios = append(ratios, p.R/q.R)
		}
	}
	if len(ratios) == 0 {
		return b
	}
	sort.Float64s(ratios)
	k := ratios[len(ratios)/2]
	b.Trace.Samples = append([]profile.Sample(nil), b.Trace.Samples...)
	for i := range b.Trace.Samples {
		b.Trace.Samples[i].R *= k
	}
	return b
}

// mean is the middle of two samples of one place; what either does not show, the other says.
func mean(p, q profile.Sample) profile.Sample {
	switch {
	case q.State != profile.Visible:
		return p
	case p.State != profile.Visible:
		q.X = p.X
		return q
	}
	m := p
	m.R = (p.R + q.R) / 2
	m.Sides = [2]float64{(p.Sides[0] + q.Sides[0]) / 2, (p.Sides[1] + q.Sides[1]) / 2}
	m.U = math.Max(math.Hypot(p.U, q.U)/2, math.Min(p.U, q.U)/math.Sqrt2)
	return m
}

func (o *Oval) judge() {
	shares := make([]float64, 0, len(o.Rows))
	out := 0
	for i, r := range o.Rows {
		shares = append(shares, math.Abs(r.Difference)/r.Mean)
		if !r.Exceeds() {
			continue
		}
		out++
		if o.Largest == nil || math.Abs(r.Difference) > math.Abs(o.Largest.Difference) {
			o.Largest = &o.Rows[i]
		}
	}
	sort.Float64s(shares)
	o.Median = shares[len(shares)/2]
	o.Out = float64(out) / float64(len(o.Rows))
}

// nearRow is how far a row may lie from a station that it answers for, mm.
const nearRow = 1.0

// At returns the row nearest to station x, and false where no round part that both shots see is near.
func (o Oval) At(x float64) (OvalRow, bool) {
	i := sort.Search(len(o.Rows), func(i int) bool { return o.Rows[i].X >= x })
	best, far := -1, nearRow
	for _, k := range []int{i - 1, i} {
		if k >= 0 && k < len(o.Rows) && math.Abs(o.Rows[k].X-x) <= far {
			best, far = k, math.Abs(o.Rows[k].X-x)
		}
	}
	if best < 0 {
		return OvalRow{}, false
	}
	return o.Rows[best], true
}
