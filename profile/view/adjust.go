package view

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/lsq"
)

// AdjustOptions say what is known before the boards are looked at.
type AdjustOptions struct {
	Width, Height int   // of the upright picture, px
	Focal         Focal // zero: nothing is known, an assumption is made and noted
	// ScaleSigma is the standard deviation of the squares' size as a fraction; 0 = a printed board whose check bar was
	// seen to be right.
	ScaleSigma float64
}

const (
	// boardScaleSigma: a picture does not show how large a board was printed. Every size is conditional on its squares
	// being what they are said to be; a check bar of 200 mm that agrees with a steel rule to 0.1 mm, evenly spread
	// (GUM 4.3.7), leaves this. Printers that miss it are off by several times as much: their check bar shows it.
	boardScaleSigma = 0.1 / 200 / 1.7320508075688772
	// cornerSigma stands in for a board that does not say how well its corners are known, px.
	cornerSigma = 0.05
	// observedShare: a quantity counts as observed when the picture more than halves what was known before.
	observedShare = 0.5
	// contradiction is how many standard deviations the picture and the stated focal length may differ.
	contradiction = 3
	// A board whose corners miss by more than flatShare times their standard deviation, taken as flatFloor px at
	// least, is curled or not in the plane: flat ones miss by 1.4 times, one that curls up by 2 mm half a metre from
	// the camera by 3.5 times.
	flatShare, flatFloor = 3, 0.04
)

// ErrReference is wrapped by the errors of a scale that cannot be used.
var ErrReference = errors.New("view: the scale cannot be used")

// Adjust finds the camera and the plane from boards that all lie in it, any turn, by least squares over all
// corners together (a bundle of one picture, after Zhang, PAMI 22(11):1330, with priors where one picture cannot
// tell). The plane's frame is the first board's: origin at its first inner corner, x along its columns, y up its
// rows, z towards the camera.
func Adjust(boards []Board, o AdjustOptions) (Reference, error) {
	if len(boards) == 0 {
		return Reference{}, fmt.Errorf("%w: no board was given", ErrReference)
	}
	if o.Width <= 0 || o.Height <= 0 {
		return Reference{}, fmt.Errorf("%w: the picture has no size", ErrReference)
	}
	groups := make([]group, len(boards))
	for i, b := range boards {
		g, err := b.group()
		if err != nil {
			return Reference{}, fmt.Errorf("%w: board %d: %w: find it again or mark it as absent", ErrReference, i+1, err)
		}
		groups[i] = g
	}
	m, res, err := adjustAll(groups, o)
	if err != nil {
		return Reference{}, err
	}
	ref := m.reference(res)
	sigma := o.ScaleSigma
	if sigma == 0 {
		sigma = boardScaleSigma
	}
	ref = ref.withScaleSigma(sigma)
	ref.Notes = append(ref.Notes, misfits(groups, ref.Residuals)...)
	return ref, nil
}

// group returns the board's inner corners as points of its own frame.
func (b Board) group() (group, error) {
	g := group{sigma: b.Sigma}
	if !(g.sigma > 0) {
		g.sigma = cornerSigma
	}
	if !(b.Square > 0) || math.IsInf(b.Square, 0) {
		return g, fmt.Errorf("a square of %g mm", b.Square)
	}
	if b.Rows < 3 || b.Cols < 3 || len(b.Corners) != b.Rows-1 {
		return g, fmt.Errorf("%d rows of corners for a board of %d x %d squares", len(b.Corners), b.Rows, b.Cols)
	}
	for i, row := range b.Corners {
		if len(row) != b.Cols-1 {
			return g, fmt.Errorf("row %d has %d corners, %d squares have %d", i+1, len(row), b.Cols, b.Cols-1)
		}
		for j, p := range row {
			if !finite2(p) {
				return g, fmt.Errorf("corner %d of row %d is not finite", j+1, i+1)
			}
			g.at = append(g.at, r2.Vec{X: float64(j) * b.Square, Y: -float64(i) * b.Square})
			g.seen = append(g.seen, p)
		}
	}
	return g, nil
}

// reference reports the model and its covariance.
func (m model) reference(res lsq.Result) Reference {
	n := len(res.P)
	cov := m.apartFromFocal(res)
	ref := Reference{Camera: m.camera, Plane: m.plane, Cov: make([][]float64, nCommon)}
	unit := func(i int) float64 {
		if i == atF {
			return m.camera.F
		}
		return 1
	}
	for i := range ref.Cov {
		ref.Cov[i] = make([]float64, nCommon)
		for j := range ref.Cov[i] {
			ref.Cov[i][j] = cov[i*n+j] * unit(i) * unit(j)
		}
	}
	ref.SigmaF = math.Sqrt(cov[0])
	ref.SigmaK1 = math.Sqrt(ref.Cov[atK1][atK1])
	ref.FocalObserved = ref.SigmaF < observedShare*m.prior.Sigma
	ref.K1Observed = ref.SigmaK1 < observedShare*m.prior.lens(m.camera.Width, m.camera.Height).SigmaK1
	sum, count := 0.0, 0
	for _, g := range m.groups {
		left := make([]r2.Vec, len(g.at))
		place := m.inCamera(g)
		for k := range left {
			left[k], _ = m.miss(g, k, place)
			sum += r2.Norm2(left[k])
			count++
		}
		ref.Residuals = append(ref.Residuals, left)
	}
	ref.RMS = math.Sqrt(sum / float64(count))
	if m.prior.Note != "" && !(ref.FocalObserved && m.prior.F35 == assumedFocal) {
		ref.Notes = append(ref.Notes, m.prior.Note)
	}
	return ref
}

// apartFromFocal is the covariance of a fit with the distance as such, no longer as following the focal length.
func (m model) apartFromFocal(res lsq.Result) []float64 {
	n, cov := len(res.P), res.Covariance()
	const z = atShift + 2
	pulled := m.plane.T.Z - res.P[z]
	for j := range n {
		cov[z*n+j] += pulled * cov[atF*n+j]
	}
	for i := range n {
		cov[i*n+z] += pulled * cov[i*n+atF]
	}
	return cov
}

// misfits are the notes on boards that do not fit the common plane.
func misfits(groups []group, residuals [][]r2.Vec) []string {
	var notes []string
	for i, board := range residuals {
		sum := 0.0
		for _, d := range board {
			sum += r2.Norm2(d)
		}
		rms := math.Sqrt(sum / float64(len(board)))
		if rms > flatShare*math.Max(groups[i].sigma, flatFloor) {
			notes = append(notes, fmt.Sprintf("Board %d misses the common plane by %.2f px: lay it flat, in the plane of the others.", i+1, rms))
		}
	}
	return notes
}

func finite2(p r2.Vec) bool { return !math.IsNaN(p.X-p.X) && !math.IsNaN(p.Y-p.Y) }
