package profile

import (
	"math"
	"sort"
)

const (
	// steepSide is the slope beyond which the sides of a trace say where a step is and not how wide the piece is.
	steepSide = 1.0
	// perMedian turns a median of absolute values into a standard deviation (of a normal distribution).
	perMedian = 1.4826
)

// Symmetry is how the two sides of a trace differ where both were seen. Half of that difference has the variance of their
// mean, whatever moves each side by itself: a piece that was turned is symmetric.
type Symmetry struct {
	x, sum []float64 // stations, and half differences (mm) summed up before each
}

// Symmetry compares the two sides of a trace.
func (t Trace) Symmetry() Symmetry {
	m := Symmetry{sum: []float64{0}}
	for i, s := range t.Samples {
		if s.State != Visible || s.Sides[0] == s.Sides[1] || steepness(t.Samples, i) > steepSide {
			continue
		}
		m.x = append(m.x, s.X)
		m.sum = append(m.sum, m.sum[len(m.sum)-1]+(s.Sides[1]-s.Sides[0])/2)
	}
	return m
}

// steepness is the size of the slope of the radius at sample i.
func steepness(s []Sample, i int) float64 {
	j, k := max(0, i-1), min(len(s)-1, i+1)
	if s[k].X <= s[j].X {
		return math.Inf(1)
	}
	return math.Abs(s[k].R-s[j].R) / (s[k].X - s[j].X)
}

// Count returns at how many samples both sides were seen.
func (m Symmetry) Count() int { return len(m.x) }

// Spread returns the standard deviation, mm, of the mean radius over a stretch of the given length, mm; 0 = at one
// sample. It passes over chips, and is 0 where nothing was seen of both sides.
func (m Symmetry) Spread(length float64) float64 {
	n := len(m.x)
	if n == 0 {
		return 0
	}
	size := make([]float64, n)
	lo, hi := 0, 0
	for i, x := range m.x {
		for hi <= i || hi < n && m.x[hi] <= x+length/2 {
			hi++
		}
		for lo < i && m.x[lo] < x-length/2 {
			lo++
		}
		size[i] = math.Abs(m.sum[hi]-m.sum[lo]) / float64(hi-lo)
	}
	sort.Float64s(size)
	return perMedian * size[n/2]
}
