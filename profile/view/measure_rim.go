package view

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/lsq"
)

// rimShare is the share of the half width within which an end's points are the rim's and not the side's.
const rimShare = 0.95

// rim fits a circle of unknown radius at an unknown station to the end's points. It starts from the radius beside
// the end and goes down to where the points within the circle are all on it; it is refused when there is no such
// circle.
func (w *endView) rim() (x, sigma float64, ok bool) {
	if w.depth() < leastDepth {
		return w.flatRim()
	}
	for range 30 {
		pts := thin(w.near(rimShare), w.most)
		if len(pts) < fewest {
			return 0, 0, false
		}
		c, err := w.circle(pts)
		if err != nil {
			return 0, 0, false
		}
		if c.spread < endMisfit && math.Abs(c.r/w.r-1) < 1.1*(1-rimShare) {
			return c.x, c.sigma, true
		}
		w.r *= math.Max(0.6, math.Min(rimShare, c.r/w.r))
	}
	return 0, 0, false
}

// circle is a rim as fitted.
type circle struct{ x, r, spread, sigma float64 }

func (w endView) circle(pts []r2.Vec) (circle, error) {
	res, err := lsq.Solve(lsq.Problem{
		Start: []float64{w.tip * (w.d - w.away()*w.r), w.r}, Count: len(pts), Scale: []float64{1, 1},
		Lower: []float64{math.Inf(-1), 0.3 * w.r}, Upper: []float64{math.Inf(1), 1.2 * w.r},
		Residuals: func(p, out []float64) {
			for i, q := range pts {
				out[i], _, _ = w.miss(p[0], p[1], q.X, q.Y)
			}
		},
		Jacobian: func(p, jac []float64) {
			for i, q := range pts {
				_, jac[2*i], jac[2*i+1] = w.miss(p[0], p[1], q.X, q.Y)
			}
		},
	}, lsq.Settings{Huber: 3 * endMisfit, Iterations: 30})
	if err != nil {
		return circle{}, err
	}
	off := make([]float64, len(pts))
	for i, r := range res.Residuals {
		off[i] = math.Abs(r)
	}
	sort.Float64s(off)
	// Three quarters of normal residuals are within 1.15 standard deviations; the rest may be splinters and string.
	c := circle{x: res.P[0], r: res.P[1], spread: off[len(off)*3/4] / 1.15}
	c.sigma = math.Max(c.spread, 0.02) * math.Sqrt(math.Abs(res.Covariance()[0]))
	return c, nil
}

// flatRim reads a rim that is seen edge on, from the points within its bulge and a pixel of the outermost.
func (w endView) flatRim() (x, sigma float64, ok bool) {
	var at []float64
	for _, q := range w.near(rimShare) {
		if w.dir*(w.tip-q.X) < (w.depth()+1)*w.px {
			at = append(at, q.X*w.chord(q.Y))
		}
	}
	if len(at) == 0 {
		return 0, 0, false
	}
	return median(at), w.px * w.d / math.Sqrt(float64(len(at))), true
}

// miss is the distance in pixels, to first order (Sampson), of the ray u, v from the image of the circle of radius
// r at x: the ray passes that station at depth t = x/u, and F = (t v)² + (t - d)² - r² is zero on the circle. With it
// come its derivatives by x and r.
func (w endView) miss(x, r, u, v float64) (off, byX, byR float64) {
	t := x / u
	f := t*t*v*v + (t-w.d)*(t-w.d) - r*r
	fx := (2*t*v*v + 2*(t-w.d)) / u
	fu, fv := -t*fx, 2*t*t*v
	steep := math.Sqrt(fu*fu + fv*fv)
	steepX := (fu*-(2*t*(v*v+1)/u+fx)/u + fv*4*t*v/u) / steep
	k := 1 / (steep * w.px)
	return f * k, (fx - f*steepX/steep) * k, -2 * r * k
}
