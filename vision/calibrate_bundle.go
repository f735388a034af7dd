package vision

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile/lsq"
	"spindlestick/profile/view"
	"spindlestick/vision/internal/guard"
)

// A printed sheet is no plane grid: a board that curls by 0.2 mm and is taken as flat makes the focal length 0.4 % wrong, and a
// printer that stretches one way by 0.2 % makes it 0.5 % wrong, stated to 0.02 %. So the board's shape is solved along with
// the camera.
const (
	// curlSigma is the standard deviation of how far a sheet's ends, corners and sides stand off, mm, when it is fixed to
	// something flat (common practice, no source).
	curlSigma = 1.0
	// stretchSigma is that of a printer's scale along its paper over that across it, less 1 (common practice, no source).
	stretchSigma = 0.003
)

// The places of a bundle's parameters: the camera as ln F, Cx, Cy, K1, K2, the board's shape, then six of each view's pose.
const (
	atLens  = 0
	atShape = 5
	atPoses = atShape + 4
)

// bundle is a camera and one board in several views.
type bundle struct {
	lens          guard.Lens
	views         []guard.View
	turns, shifts []r3.Vec
	middle, half  r2.Vec // of the board, mm
	shape         [4]float64
	typical       view.Lens
	held          guard.Fixed // what the views do not tell: there what any lens has counts
	sigma         float64     // standard deviation of a coordinate, px
}

// newBundle begins where a flat board fits. held says what the views do not tell.
func newBundle(flat guard.Calibrated, held guard.Fixed, views []guard.View, width, height int) bundle {
	b := bundle{lens: flat.Lens, views: views, turns: flat.Turns, shifts: flat.Shifts, held: held, typical: view.TypicalLens(width, height, 1)}
	b.sigma = math.Max(flat.RMS/math.Sqrt2, 1e-3) // drawn corners without any noise must not divide by zero
	lo, hi := views[0].At[0], views[0].At[0]
	for _, p := range views[0].At {
		lo = r2.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = r2.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	b.middle, b.half = r2.Scale(0.5, r2.Add(lo, hi)), r2.Scale(0.5, r2.Sub(hi, lo))
	return b
}

// moved returns the bundle with parameters p added.
func (b bundle) moved(p []float64) bundle {
	b.lens.F *= math.Exp(p[0])
	b.lens.Cx += p[1]
	b.lens.Cy += p[2]
	b.lens.K1 += p[3]
	b.lens.K2 += p[4]
	for i := range b.shape {
		b.shape[i] += p[atShape+i]
	}
	turns, shifts := make([]r3.Vec, len(b.views)), make([]r3.Vec, len(b.views))
	for i := range b.views {
		q := p[atPoses+6*i:]
		turns[i] = r3.Add(b.turns[i], r3.Vec{X: q[0], Y: q[1], Z: q[2]})
		shifts[i] = r3.Add(b.shifts[i], r3.Vec{X: q[3], Y: q[4], Z: q[5]})
	}
	b.turns, b.shifts = turns, shifts
	return b
}

// at is where the board's point p lies in its frame: curled along and across and twisted (mm at its ends, corners and sides), and
// stretched. Half a turn of the board in itself changes none of it.
func (b bundle) at(p r2.Vec) r3.Vec {
	d := r2.Sub(p, b.middle)
	u, v := d.X/b.half.X, d.Y/b.half.Y
	s := b.shape
	return r3.Vec{X: p.X + d.X*s[3]/2, Y: p.Y - d.Y*s[3]/2, Z: s[0]*u*u + s[1]*u*v + s[2]*v*v}
}

// unseenMiss is the residual, px, of a point that a trial camera cannot see.
const unseenMiss = 1e4

// misses calls take with every corner as seen less as computed, px.
func (b bundle) misses(take func(r2.Vec)) {
	c := view.Camera{F: b.lens.F, Cx: b.lens.Cx, Cy: b.lens.Cy, K1: b.lens.K1, K2: b.lens.K2}
	shaped := make([]r3.Vec, len(b.views[0].At))
	for k, p := range b.views[0].At {
		shaped[k] = b.at(p)
	}
	for i, v := range b.views {
		turn := r3.NewRotation(r3.Norm(b.turns[i]), b.turns[i])
		ex, ey, ez := turn.Rotate(r3.Vec{X: 1}), turn.Rotate(r3.Vec{Y: 1}), turn.Rotate(r3.Vec{Z: 1})
		for k, seen := range v.Seen {
			p := r3.Add(r3.Add(r3.Scale(shaped[k].X, ex), r3.Scale(shaped[k].Y, ey)), r3.Add(r3.Scale(shaped[k].Z, ez), b.shifts[i]))
			q, ok := c.Project(p)
			if !ok {
				q = r2.Add(seen, r2.Vec{X: unseenMiss, Y: unseenMiss})
			}
			take(r2.Sub(seen, q))
		}
	}
}

// bundlePriors is the number of residuals before those of the corners: the shape's, the middle's, k2's.
const bundlePriors = 4 + 3

func (b bundle) residuals(r []float64) {
	for i, s := range b.shape {
		r[i] = s / curlSigma
	}
	r[3] = b.shape[3] / stretchSigma
	r[4], r[5], r[6] = 0, 0, 0
	if b.held.Centre {
		r[4] = (b.lens.Cx - b.typical.Camera.Cx) / b.typical.SigmaCentre
		r[5] = (b.lens.Cy - b.typical.Camera.Cy) / b.typical.SigmaCentre
	}
	if b.held.K2 {
		r[6] = b.lens.K2 / b.typical.SigmaK2
	}
	i := bundlePriors
	b.misses(func(d r2.Vec) {
		r[i], r[i+1] = d.X/b.sigma, d.Y/b.sigma
		i += 2
	})
}

func (b bundle) corners() int { return len(b.views) * len(b.views[0].At) }

// solve moves the bundle to where it fits best, and returns the fit.
func (b bundle) solve() (bundle, lsq.Result, error) {
	scale := make([]float64, atPoses+6*len(b.views))
	for i := range scale {
		scale[i] = 1
	}
	scale[1], scale[2] = b.lens.F, b.lens.F
	for i, s := range b.shifts {
		for k := range 3 {
			scale[atPoses+6*i+3+k] = r3.Norm(s)
		}
	}
	res, err := lsq.Solve(lsq.Problem{
		Start: make([]float64, len(scale)), Count: bundlePriors + 2*b.corners(), Scale: scale,
		Residuals: func(p, r []float64) { b.moved(p).residuals(r) },
	}, lsq.Settings{})
	if err != nil {
		return b, res, fmt.Errorf("%w: take other photographs of the board", err)
	}
	return b.moved(res.P), res, nil
}

// spread is the root of the corners' mean squared miss in a coordinate, px, that much larger as the unknowns take from it, and as
// neighbours that err together count as fewer.
func (b bundle) spread() (sigma, rms float64) {
	var own, next float64
	var last r2.Vec
	b.misses(func(d r2.Vec) {
		own += r2.Norm2(d)
		next += r2.Dot(d, last)
		last = d
	})
	n := b.corners()
	free := float64(max(1, 2*n-atPoses-6*len(b.views)))
	return math.Max(math.Sqrt(own/free)*clumping(next/own, 2*n), 1e-3), math.Sqrt(own / float64(n))
}

// clumping is what a correlation of neighbours along the rows does to the deviation of what n of them tell: (1 + rho) / (1 - rho),
// the square root of that share along and across (for a series: Bartlett 1946). Within two deviations of none it counts as none.
// What the model leaves out of a real lens and sheet bends many corners together.
func clumping(rho float64, n int) float64 {
	const most = 0.95 // beyond it a board would count as less than one corner
	rho = math.Min(rho-2/math.Sqrt(float64(n)), most)
	if !(rho > 0) {
		return 1
	}
	return (1 + rho) / (1 - rho)
}

// The corners' deviation decides what the priors weigh, and the other way round. From a flat board that misses by a hundred times
// as much it takes three rounds; two in a hundred is far under what a deviation matters by.
const bundleRounds, bundleSettled = 6, 0.02

// bent is the camera that fits with a board of any shape a sheet takes, starting from that of a flat one.
func (b bundle) bent() (guard.Calibrated, error) {
	var res lsq.Result
	for range bundleRounds {
		var err error
		if b, res, err = b.solve(); err != nil {
			return guard.Calibrated{}, err
		}
		before := b.sigma
		if b.sigma, _ = b.spread(); math.Abs(b.sigma/before-1) < bundleSettled {
			break
		}
	}
	c := guard.Calibrated{Lens: b.lens, Turns: b.turns, Shifts: b.shifts}
	_, c.RMS = b.spread()
	cov, n := res.Covariance(), len(res.P)
	dev := func(i int) float64 { return math.Sqrt(cov[i*n+i]) }
	c.Sigma = guard.Lens{F: b.lens.F * dev(atLens), Cx: dev(atLens + 1), Cy: dev(atLens + 2), K1: dev(atLens + 3), K2: dev(atLens + 4)}
	return c, nil
}
