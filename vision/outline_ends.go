package vision

import (
	"math"

	"spindlestick/profile/view"
)

// atBorder is how near the border of the picture (px) a contour cannot be measured: there the piece is cut off.
const atBorder = 12.0

// endSupport is the share of each end's contour, on the side in the light if the other lies in shadow (1 left, 2
// right), whose edge stands out from its noise. An end at the border of the picture counts as clear.
func (d *finder) endSupport(fits []edgeFit, pts []view.EdgePoint, good []bool, f frame, shadow int) (out [2]float64) {
	first, last := extremes(pts, f)
	n := len(pts)
	for k, at := range [2]int{first, last} {
		if p := pts[at].P; math.Min(p.X, p.Y) < atBorder || p.X > float64(d.r.w)-1-atBorder || p.Y > float64(d.r.h)-1-atBorder {
			out[k] = 1
			continue
		}
		from, to := endRun(pts, f, at, 2*k-1)
		var all, clear float64
		for i := from; ; i = (i + 1) % n {
			if _, y := f.of(pts[i].P); !(shadow == 1 && y > 0 || shadow == 2 && y < 0) {
				all += fits[i].share
				if good[i] && fits[i].rise() > 3*fits[i].Noise {
					clear += fits[i].share
				}
			}
			if i == to {
				break
			}
		}
		if all > 0 {
			out[k] = clear / all
		}
	}
	return out
}

// overhang is how far (px) the sides reach beyond where the axis enters and leaves the piece.
func overhang(sides [2][]view.EdgePoint, f frame) float64 {
	most := 0.0
	for _, side := range sides {
		for _, p := range side {
			x, _ := f.of(p.P)
			most = math.Max(most, math.Max(-x, x-f.L))
		}
	}
	return most
}
