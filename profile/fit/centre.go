package fit

import (
	"math"
	"sort"
)

// centrePasses clips what stands off the line, each time at outlier standard deviations.
const centrePasses = 4

// centre moves the outline across the axis so that its two sides agree: an axis that is a fraction of a pixel off, or a
// piece that is a little bent, moves both sides one way, which is no matter of the meridian. The shift is a straight line
// along the piece, from the points away from the joints of its round parts.
func (p *picture) centre(f *fitted) {
	w := newExposure(p, f.chain, f.ties)
	r := make([]float64, len(p.points))
	w.residuals(nil, r)
	var x, y []float64
	for i, q := range p.points {
		if spacing(&f.chain, q.station) > 0 && !f.angular(q.station) {
			x = append(x, q.station)
			y = append(y, r[i]/q.root*q.hand())
		}
	}
	a, b, ok := clippedLine(x, y)
	if !ok {
		return
	}
	for i := range p.points {
		q := &p.points[i]
		q.v -= q.hand() * (a + b*q.station) / q.perV
	}
}

// hand is +1 for points of side 0 and -1 for those of side 1.
func (q *seen) hand() float64 { return float64(1 - 2*q.side) }

// angular reports whether station x lies on a square or its shoulder.
func (f *fitted) angular(x float64) bool {
	for k := range f.links {
		if x <= f.joints[k+1].x {
			_, s := f.ties.shoulder(k)
			return s || f.ties.square[k]
		}
	}
	return false
}

// clippedLine returns the line y = a + bx through points of which some stand off it; false where there are too few.
func clippedLine(x, y []float64) (a, b float64, ok bool) {
	keep := math.Inf(1)
	for range centrePasses {
		var n, sx, sy, sxx, sxy float64
		var off []float64
		for i := range x {
			if d := math.Abs(y[i] - a - b*x[i]); d <= keep {
				n, sx, sy, sxx, sxy = n+1, sx+x[i], sy+y[i], sxx+x[i]*x[i], sxy+x[i]*y[i]
			}
		}
		det := n*sxx - sx*sx
		if n < leastSamples || det <= 0 {
			return 0, 0, false
		}
		b = (n*sxy - sx*sy) / det
		a = (sy - b*sx) / n
		for i := range x {
			off = append(off, math.Abs(y[i]-a-b*x[i]))
		}
		sort.Float64s(off)
		keep = outlier * perMAD * off[len(off)/2]
	}
	return a, b, true
}
