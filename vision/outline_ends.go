package vision

import (
	"math"

	"spindlestick/profile/view"
)

// atBorder is how near the border of the picture (px) a contour cannot be measured: there the piece is cut off.
const atBorder = 12.0

// endStretch is the share of the length about each end that must show: a face that stands out, and the sides beside it.
const endStretch = 0.04

// endSupport is the share of each end's contour, the lesser of its face's and of that within endStretch, whose edge
// stands out from its noise; of the side in the light alone if the other lies in shadow (1 left, 2 right). An end at
// the border of the picture counts as clear.
func (d *finder) endSupport(fits []edgeFit, pts []view.EdgePoint, good []bool, f frame, shadow int) (out [2]float64) {
	first, last := extremes(pts, f)
	for k, at := range [2]int{first, last} {
		if p := pts[at].P; math.Min(p.X, p.Y) < atBorder || p.X > float64(d.r.w)-1-atBorder || p.Y > float64(d.r.h)-1-atBorder {
			out[k] = 1
			continue
		}
		var face, beside support
		from, to := endRun(pts, f, at, 2*k-1)
		tip, _ := f.of(pts[at].P)
		for i := range pts {
			x, y := f.of(pts[i].P)
			if shadow == 1 && y > 0 || shadow == 2 && y < 0 {
				continue
			}
			clear := good[i] && fits[i].rise() > 3*fits[i].Noise
			if from <= to && i >= from && i <= to || from > to && (i >= from || i <= to) {
				face.add(fits[i].share, clear)
			}
			if math.Abs(x-tip) < endStretch*f.L {
				beside.add(fits[i].share, clear)
			}
		}
		out[k] = math.Min(face.clear(), beside.clear())
	}
	return out
}

// support is how much of a stretch of contour shows.
type support struct{ seen, all float64 }

func (s *support) add(share float64, seen bool) {
	s.all += share
	if seen {
		s.seen += share
	}
}

// clear is the share that shows, 0 of nothing.
func (s *support) clear() float64 {
	if s.all == 0 {
		return 0
	}
	return s.seen / s.all
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
