package view

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile/lsq"
)

// AdjustOptions say what is known before the boards are looked at.
type AdjustOptions struct {
	Width, Height int   // of the upright picture, px
	Focal         Focal // zero: nothing is known, an assumption is made and noted
	// ScaleSigma is the standard deviation of the printed squares' size as a fraction; 0 = 0.1 %, a
	// printed board whose check bar was measured with a steel rule.
	ScaleSigma float64
}

const (
	boardScaleSigma = 0.001
	// cornerSigma stands in for a board that does not say how well its corners are known, px.
	cornerSigma = 0.05
	// observedShare: a quantity counts as observed when the picture more than halves what was known before.
	observedShare = 0.5
	// contradiction is how many standard deviations the picture and the stated focal length may differ.
	contradiction = 3
	// flatLimit is the misfit over which a board is probably curled or not in the plane, px: ten times what
	// corners of a flat one show.
	flatLimit = 0.4
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
	ref.Notes = append(ref.Notes, misfits(ref.Residuals)...)
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

// adjustAll starts from the stated focal length, or from several where it is only assumed, and settles the best.
func adjustAll(groups []group, o AdjustOptions) (model, lsq.Result, error) {
	prior := o.Focal.orAssumed()
	starts := []float64{prior.F35}
	if prior.Sigma > 0.1 {
		// One octave on either side: the search reaches a factor of two from each.
		starts = append(starts, prior.F35/2, prior.F35*2)
	}
	var best model
	cost := math.Inf(1)
	var errs error
	for _, f35 := range starts {
		m, err := startModel(groups, o, f35)
		if err != nil {
			errs = errors.Join(errs, err)
			continue
		}
		m.prior = prior
		m, res, err := m.solve(roughly)
		errs = errors.Join(errs, err)
		if err == nil && res.Cost < cost {
			best, cost = m, res.Cost
		}
	}
	if math.IsInf(cost, 1) {
		return best, lsq.Result{}, fmt.Errorf("%w: %w", ErrReference, errs)
	}
	return best.settle()
}

// startModel places the plane by the first board's homography and the other boards by their rays to it.
func startModel(groups []group, o AdjustOptions, f35 float64) (model, error) {
	m := model{camera: NewCamera(o.Width, o.Height, f35), groups: append([]group(nil), groups...)}
	h, err := homography(groups[0].at, groups[0].seen)
	if err != nil {
		return m, fmt.Errorf("board 1: %w", err)
	}
	if m.plane, err = poseOf(m.camera, h); err != nil {
		return m, fmt.Errorf("board 1: %w", err)
	}
	for i := 1; i < len(m.groups); i++ {
		if err := m.placeGroup(i); err != nil {
			return m, fmt.Errorf("board %d: %w", i+1, err)
		}
	}
	return m, nil
}

// placeGroup lays group i into the plane by the similarity between its points and where their rays meet it.
func (m *model) placeGroup(i int) error {
	g := &m.groups[i]
	on := make([]r2.Vec, len(g.at))
	for k, p := range g.seen {
		q, ok := m.plane.Meet(m.camera.Ray(p), 0)
		if !ok {
			return errors.New("it does not lie in the plane of board 1")
		}
		on[k] = r2.Vec{X: q.X, Y: q.Y}
	}
	a, ta := normalised(g.at)
	b, tb := normalised(on)
	var dot, cross float64
	for k := range a {
		dot += r2.Dot(a[k], b[k])
		cross += r2.Cross(a[k], b[k])
	}
	turn := math.Atan2(cross, dot)
	at := r2.Sub(tb.c, r2.Rotate(ta.c, turn, r2.Vec{}))
	g.place = r3.Vec{X: at.X, Y: at.Y, Z: turn}
	return nil
}

// settle solves again from a place close to the solution, with the corners' standard deviation as their scatter
// shows it if that is larger than stated. Where the picture contradicts the stated focal length, the picture is
// believed.
func (m model) settle() (model, lsq.Result, error) {
	m, res, err := m.solve(exactly)
	if err != nil {
		return m, res, err
	}
	if spread := m.spread(res); spread > 1 {
		m = m.coarser(spread)
		if m, res, err = m.solve(exactly); err != nil {
			return m, res, err
		}
	}
	if !m.contradicts(res) {
		return m, res, nil
	}
	stated := m.prior.F35
	m.prior = Focal{F35: m.camera.Focal35(), Sigma: assumedSigma}
	if m, _, err = m.solve(exactly); err != nil {
		return m, res, err
	}
	m.prior.Note = fmt.Sprintf("The focal length is stated as %.3g mm (35 mm equivalent) but the scale shows %.3g mm: the scale is believed. The photo may be cropped.", stated, m.camera.Focal35())
	return m.solve(exactly)
}

// coarser returns the model with its points' standard deviations multiplied by k.
func (m model) coarser(k float64) model {
	m.groups = append([]group(nil), m.groups...)
	for i := range m.groups {
		m.groups[i].sigma *= k
	}
	return m
}

// spread is the points' robust scatter over their standard deviation, by the median (normal: 0.6745).
func (m model) spread(res lsq.Result) float64 {
	n := m.count() - 4
	if m.square > 0 {
		n -= 2
	}
	free := n - (len(res.P) - 4)
	if free < 1 {
		return 1
	}
	abs := make([]float64, n)
	for i := range abs {
		abs[i] = math.Abs(res.Residuals[4+i])
	}
	sort.Float64s(abs)
	return abs[n/2] / 0.6745 * math.Sqrt(float64(n)/float64(free))
}

// contradicts reports whether the picture by itself, without the prior, shows another focal length.
func (m model) contradicts(res lsq.Result) bool {
	post, prior := res.Covariance()[0], m.prior.Sigma*m.prior.Sigma
	off := math.Log(m.camera.F / NewCamera(m.camera.Width, m.camera.Height, m.prior.F35).F)
	if post >= observedShare*observedShare*prior {
		return false
	}
	// Posterior = weighted mean of picture and prior, so the picture alone is off * prior / (prior - post).
	alone := off * prior / (prior - post)
	variance := post * prior / (prior - post)
	return math.Abs(alone) > contradiction*math.Sqrt(variance+prior)
}

// reference reports the model and its covariance.
func (m model) reference(res lsq.Result) Reference {
	cov := res.Covariance()
	n := len(res.P)
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
	ref.K1Observed = ref.SigmaK1 < observedShare*k1Sigma
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

// misfits are the notes on boards that do not fit the common plane.
func misfits(residuals [][]r2.Vec) []string {
	var notes []string
	for i, board := range residuals {
		sum := 0.0
		for _, d := range board {
			sum += r2.Norm2(d)
		}
		if rms := math.Sqrt(sum / float64(len(board))); rms > flatLimit {
			notes = append(notes, fmt.Sprintf("Board %d misses the common plane by %.1f px: lay it flat, in the plane of the others.", i+1, rms))
		}
	}
	return notes
}

func finite2(p r2.Vec) bool { return !math.IsNaN(p.X-p.X) && !math.IsNaN(p.Y-p.Y) }
