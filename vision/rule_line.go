package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// ruleLine is the line through two marks: u counts px along it from the first mark, v px across it.
type ruleLine struct {
	photo    *Photo
	origin   r2.Vec
	ex, ey   r2.Vec // unit vectors along u and v
	length   float64
	from, to int // the u between which the line lies in the photo
	reach    int // how far to look to both sides, px
}

const (
	// The comb is looked for this far to both sides of the marks, mm: rules are 13 to 30 mm wide (common practice, no source), and marks may
	// be placed on the figures or on the edge.
	ruleReach = 12.0
	// and at least and at most so many px.
	ruleReachLeast, ruleReachMost = 8, 150
	// ruleRows rows on either side are averaged: against noise, but few enough for lines that lie askew.
	ruleRows = 2
)

func newRuleLine(p *Photo, m view.RuleMarks) ruleLine {
	d := r2.Sub(m.Q, m.P)
	l := ruleLine{photo: p, origin: m.P, length: r2.Norm(d), ex: r2.Unit(d)}
	l.ey = r2.Vec{X: -l.ex.Y, Y: l.ex.X}
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, side := range [4]struct{ at, slope float64 }{
		{m.P.X, l.ex.X}, {m.P.Y, l.ex.Y}, {float64(p.width-1) - m.P.X, -l.ex.X}, {float64(p.height-1) - m.P.Y, -l.ex.Y},
	} { // inside where at + slope u >= 0
		if u := -side.at / side.slope; side.slope > 1e-9 {
			lo = math.Max(lo, u)
		} else if side.slope < -1e-9 {
			hi = math.Min(hi, u)
		}
	}
	l.from, l.to = int(math.Ceil(math.Min(lo, 0))), int(math.Floor(math.Max(hi, l.length)))
	l.reach = int(clamp(ruleReach*l.length/m.Length, ruleReachLeast, ruleReachMost))
	return l
}

// point is the photo's point at (u, v).
func (l ruleLine) point(u, v float64) r2.Vec {
	return r2.Add(l.origin, r2.Add(r2.Scale(u, l.ex), r2.Scale(v, l.ey)))
}

// rows samples the grey values along the line at each v from -reach to reach.
func (l ruleLine) rows() [][]float64 {
	rows := make([][]float64, 0, 2*l.reach+1)
	for v := -l.reach; v <= l.reach; v++ {
		row := make([]float64, l.to-l.from+1)
		for i := range row {
			row[i] = l.photo.grayAt(l.point(float64(l.from+i), float64(v)))
		}
		rows = append(rows, row)
	}
	return rows
}

// band is the mean of the rows around row v.
func band(rows [][]float64, v int) []float64 {
	lo, hi := max(v-ruleRows, 0), min(v+ruleRows, len(rows)-1)
	mean := make([]float64, len(rows[v]))
	for _, row := range rows[lo : hi+1] {
		for i, x := range row {
			mean[i] += x / float64(hi-lo+1)
		}
	}
	return mean
}

// grayAt is the mean of the three coded values at p, 0 to 255, linear between pixels, that of the nearest pixel outside.
func (p *Photo) grayAt(q r2.Vec) float64 {
	x, y := clamp(q.X, 0, float64(p.width-1)), clamp(q.Y, 0, float64(p.height-1))
	x0, y0 := min(int(x), max(p.width-2, 0)), min(int(y), max(p.height-2, 0))
	fx, fy := x-float64(x0), y-float64(y0)
	x1, y1 := min(x0+1, p.width-1), min(y0+1, p.height-1)
	return (1-fy)*((1-fx)*p.gray(x0, y0)+fx*p.gray(x1, y0)) + fy*((1-fx)*p.gray(x0, y1)+fx*p.gray(x1, y1))
}

func (p *Photo) gray(x, y int) float64 {
	i := 3 * (y*p.width + x)
	if p.b16 != nil {
		return float64(int(p.b16[i])+int(p.b16[i+1])+int(p.b16[i+2])) / (3 * 257)
	}
	return float64(int(p.b8[i])+int(p.b8[i+1])+int(p.b8[i+2])) / 3
}
