package vision

import (
	"image"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/vision/internal/guard"
)

const (
	// refineWindow is half the refined window as a part of a square: beyond 1/2 it would see the next corner's edges.
	refineWindow = 0.35
	// Half windows in px: below 2 there are too few gradients; above 11 more pixels bring in more lens distortion than they
	// take away noise.
	refineLeast, refineMost = 2, 11
	// refineReach is how far refining may move a corner, as a part of a square; what moves further is hidden by something.
	refineReach = 0.3
	// leastSigma is the standard deviation in px below which no corner is trusted, whatever the residuals say: the
	// refinement's own bias on squares of 20 px.
	leastSigma = 0.02
)

// refine locates the corners in the photo at full size and returns the standard deviation of one coordinate in px; false if too many
// corners are not where the others say.
func (s *sheet) refine(p *Photo) (sigma float64, ok bool, err error) {
	step := s.step()
	half := int(clamp(math.Round(refineWindow*step), refineLeast, refineMost))
	area := s.bounds(half + 4).Intersect(image.Rect(0, 0, p.width, p.height))
	if area.Empty() {
		return 0, false, nil
	}
	m, err := p.grayCrop(area)
	defer m.Close()
	if err != nil {
		return 0, false, err
	}
	min := r2.Vec{X: float64(area.Min.X), Y: float64(area.Min.Y)}
	var at []r2.Vec
	for _, c := range s.all() {
		c = r2.Sub(c, min)
		at = append(at, r2.Vec{X: clamp(c.X, 0, float64(area.Dx()-1)), Y: clamp(c.Y, 0, float64(area.Dy()-1))})
	}
	if m.Cols() < 2*half+5 || m.Rows() < 2*half+5 {
		return 0, false, nil
	}
	if err := guard.CornerSubPix(&m, at, half); err != nil {
		return 0, false, err
	}
	for k, q := range at {
		s.accept(k, r2.Add(q, min), step)
	}
	if !s.fillHidden() {
		return 0, false, nil
	}
	return s.sigma(), true, nil
}

// accept takes a refined corner if it lies near its place; a hidden one counts as not seen.
func (s *sheet) accept(k int, q r2.Vec, step float64) {
	i, j := k/s.cols(), k%s.cols()
	s.seen[i][j] = r2.Norm(r2.Sub(q, s.corners[i][j])) < refineReach*step
	if s.seen[i][j] {
		s.corners[i][j] = q
	}
}

// fillHidden places the corners that were not seen by the picture of the board around them; false if there are too many.
func (s *sheet) fillHidden() bool {
	hidden := 0
	for i, row := range s.seen {
		for j, seen := range row {
			if seen {
				continue
			}
			hidden++
			h, err := s.around(j)
			if err != nil {
				return false
			}
			s.corners[i][j] = h.apply(r2.Vec{X: float64(j), Y: float64(i)})
		}
	}
	return float64(hidden) <= boardMissingLimit*float64(len(s.seen)*s.cols())
}

// around fits the picture of the plane to the seen corners up to three columns away, over which lenses hardly bend it.
func (s *sheet) around(col int) (homography, error) {
	var from, to []r2.Vec
	for i, row := range s.corners {
		for j := max(col-3, 0); j <= min(col+3, s.cols()-1); j++ {
			if s.seen[i][j] {
				from, to = append(from, r2.Vec{X: float64(j), Y: float64(i)}), append(to, row[j])
			}
		}
	}
	return fitHomography(from, to)
}

// sigma is the standard deviation of one coordinate from the fourth differences along the rows, which neither perspective nor lens
// distortion reaches at this scale; 1, -4, 6, -4, 1 multiplies a variance by 70. The median keeps hidden corners out.
func (s *sheet) sigma() float64 {
	var d []float64
	for _, row := range s.corners {
		for j := 4; j < len(row); j++ {
			v := r2.Add(r2.Sub(r2.Add(row[j], row[j-4]), r2.Scale(4, r2.Add(row[j-1], row[j-3]))), r2.Scale(6, row[j-2]))
			d = append(d, math.Abs(v.X), math.Abs(v.Y))
		}
	}
	slices.Sort(d)
	const normal = 1.4826 // standard deviation over median absolute deviation
	return math.Max(normal*d[len(d)/2]/math.Sqrt(70), leastSigma)
}

// bounds is the pixels within pad of the corners.
func (s *sheet) bounds(pad int) image.Rectangle {
	lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range s.all() {
		lo = r2.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = r2.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	return image.Rect(int(lo.X)-pad, int(lo.Y)-pad, int(hi.X)+pad+2, int(hi.Y)+pad+2)
}
