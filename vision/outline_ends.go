package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

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
			} else if math.Abs(x-tip) < endStretch*f.L {
				beside.add(fits[i].share, clear)
			}
		}
		out[k] = face.clear()
		if d.endsThere(pts, f, tip, float64(2*k-1)) {
			out[k] = 1 // a splintered end has no clean edge
		}
		if beside.all > 0 {
			out[k] = math.Min(out[k], beside.clear())
		}
	}
	return out
}

// The bands (px) inside and outside an edge whose tones are compared, clear of splinters.
const (
	bandNear, bandFar = 4, 14
	bandWide          = 12  // px to either side of the axis
	endContrast       = 0.6 // of the usual contrast along the sides
)

// endsThere reports whether the tones past the tip of the axis differ from those before it about as much as they do
// across the sides; sign is -1 at the first end.
func (d *finder) endsThere(pts []view.EdgePoint, f frame, tip, sign float64) bool {
	var in, out toneCount
	for t := bandNear; t <= bandFar; t++ {
		for y := -bandWide; y <= bandWide; y++ {
			a, okA := d.r.toneAt(f.at(tip-sign*float64(t), float64(y)))
			b, okB := d.r.toneAt(f.at(tip+sign*float64(t), float64(y)))
			if okA && okB {
				in.add(a)
				out.add(b)
			}
		}
	}
	var sides []float64
	for i := 0; i < len(pts); i += bandFar {
		p := pts[i]
		a, okA := d.r.toneAt(r2.Sub(p.P, r2.Scale(bandNear+2, p.N)))
		b, okB := d.r.toneAt(r2.Add(p.P, r2.Scale(bandNear+2, p.N)))
		if okA && okB {
			sides = append(sides, dist(a, b))
		}
	}
	return dist(in.median(), out.median()) > math.Max(leastContrast, endContrast*quantile(sides, 0.5))
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
