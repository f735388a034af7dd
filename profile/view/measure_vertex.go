package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// further reads the radius so far inside the end that no ray past the end face comes near.
func (a placed) further(w endView) float64 {
	at := a.p.Station(w.tip*(1-w.away()*w.r/a.p.D)) - w.dir*(2*insideEnd+2*w.r*math.Abs(w.tip))
	if r, ok := a.radius(at); ok {
		return r
	}
	return w.r
}

// vertex reads the end of a square that is seen corner on, half of its diagonal being c: its outline comes to a point,
// u = u0 + s v + k |v|, where the nearest corner stands c before the axis.
func (w endView) vertex(c float64) (x, sigma float64, ok bool) {
	w.r = c
	if w.depth() < 2*leastDepth {
		return 0, 0, false
	}
	pts := w.near(0.7)
	if len(pts) < 2*fewest {
		return 0, 0, false
	}
	var half [2][]r2.Vec
	for _, q := range pts {
		k := 0
		if q.Y > 0 {
			k = 1
		}
		half[k] = append(half[k], q)
	}
	if len(half[0]) < fewest || len(half[1]) < fewest {
		return 0, 0, false
	}
	u0, s0 := straightThrough(half[0])
	u1, s1 := straightThrough(half[1])
	spread := math.Hypot(s0, s1) / math.Sqrt2
	// Over either half of a rim a straight line misses by a tenth of the depth.
	if spread > math.Max(w.rimSpread(pts)/4, w.px/20) || math.Abs(u1-u0) > 2*w.px || spread > 0.02*w.depth()*w.px {
		return 0, 0, false
	}
	stands := w.d - w.away()*c
	return (u0 + u1) / 2 * stands, math.Max(spread, w.px/20) * stands, true
}
