package vision

import (
	"image"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/vision/internal/guard"
)

const (
	// refineWindow is half the refined window as a part of a square: beyond 1/2 it would see the next corner's edges.
	refineWindow = 0.35
	// Half windows in px: below 2 there are too few gradients; above 11 more pixels bring in more lens distortion than they
	// take away noise.
	refineLeast, refineMost = 2, 11
	// refineBlur smooths in px before refining. Refining interpolates linearly, which on the steep edges of a sharp picture pulls the
	// corners of a board that lies parallel to the pixels by up to 0.2 px; smoothing does not move a symmetric crossing.
	refineBlur = 1.0
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
	if err != nil {
		return 0, false, err
	}
	defer m.Close()
	min := r2.Vec{X: float64(area.Min.X), Y: float64(area.Min.Y)}
	var at []r2.Vec
	for _, c := range s.all() {
		c = r2.Sub(c, min)
		at = append(at, r2.Vec{X: clamp(c.X, 0, float64(area.Dx()-1)), Y: clamp(c.Y, 0, float64(area.Dy()-1))})
	}
	if m.Cols() < 2*half+5 || m.Rows() < 2*half+5 {
		return 0, false, nil
	}
	if err := guard.Blur(&m, &m, refineBlur); err != nil {
		return 0, false, err
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

// sigma is the standard deviation of one coordinate: what is left after the picture of a plane and, for lens distortion, a
// polynomial of third degree. The median keeps hidden corners out.
func (s *sheet) sigma() float64 {
	var from []r2.Vec
	for i, row := range s.corners {
		for j := range row {
			from = append(from, r2.Vec{X: float64(j), Y: float64(i)})
		}
	}
	to := s.all()
	h, err := fitHomography(from, to)
	if err != nil {
		return refineReach * s.step()
	}
	rest := mat.NewDense(len(to), 2, nil)
	terms := mat.NewDense(len(to), cubicTerms, nil)
	for k, q := range to {
		d := r2.Sub(q, h.apply(from[k]))
		rest.SetRow(k, []float64{d.X, d.Y})
		terms.SetRow(k, cubic(from[k].X/float64(s.cols()), from[k].Y/boardRows))
	}
	var c, fit mat.Dense
	if err := c.Solve(terms, rest); err == nil {
		fit.Mul(terms, &c)
		rest.Sub(rest, &fit)
	}
	d := rest.RawMatrix().Data
	for k := range d {
		d[k] = math.Abs(d[k])
	}
	slices.Sort(d)
	const normal = 1.4826 // standard deviation over median absolute deviation
	return math.Max(normal*d[len(d)/2], leastSigma)
}

const cubicTerms = 10

// cubic is the monomials of a polynomial of third degree.
func cubic(x, y float64) []float64 {
	return []float64{1, x, y, x * x, x * y, y * y, x * x * x, x * x * y, x * y * y, y * y * y}
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
