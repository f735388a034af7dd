package view

import (
	"fmt"
	"math"
	"slices"
)

// readings returns the known sizes against the trace scaled by k; nil where a station falls off the piece.
func (s sizes) readings(k float64) []reading {
	var out []reading
	for _, r := range s.known {
		d, slope, ok := s.caliper(r.X/k, jaw/k)
		if !ok {
			return nil
		}
		out = append(out, reading{
			off:   r.D - k*d,
			sigma: math.Hypot(caliperSigma, slope*stationSigma),
			gain:  k*d - r.X*slope,
		})
	}
	if s.length > 0 {
		out = append(out, reading{
			off:   s.length - k*s.trace.Length,
			sigma: math.Hypot(lengthSigma, k*s.trace.ULength/2),
			gain:  k * s.trace.Length,
		})
	}
	return out
}

// caliperPoints are the places under a caliper's jaws that are looked at, a quarter of a millimetre apart.
const caliperPoints = 9

// caliper returns the diameter that a caliper with jaws of half width w reads at x, in the trace's own unit, and how
// fast it changes with x: a crest or a bottom within the jaws is what it reads, elsewhere the mean under them.
func (s sizes) caliper(x, w float64) (d, slope float64, ok bool) {
	if x > s.trace.Length {
		return 0, 0, false
	}
	r := s.under(x, w)
	fit := fitJaw(r)
	limit := prominence * w / jaw
	if fit.left > limit {
		// A step under the jaws: the reading is anywhere on it.
		return 2 * fit.mean, 2 * (slices.Max(r[:]) - slices.Min(r[:])) / w, true
	}
	if top, ok := fit.extreme(limit); ok {
		// Again about the crest itself: a circle and a parabola part as they leave it.
		again := fitJaw(s.under(x+w*top, w))
		if at, ok := again.extreme(limit); ok {
			return 2 * again.at(at), 0, true
		}
	}
	return 2 * fit.mean, 2 * fit.tilt / w, true
}

// under returns the radii at the places under the jaws at x.
func (s sizes) under(x, w float64) (r [caliperPoints]float64) {
	samples := s.trace.Samples
	from, to := samples[0].X, samples[len(samples)-1].X
	for i := range r {
		p, _ := s.trace.At(math.Max(from, math.Min(to, x+w*jawPlace(i))))
		r[i] = p.R
	}
	return r
}

// jawPlace is place i under the jaws, from -1 to 1.
func jawPlace(i int) float64 { return 2*float64(i)/(caliperPoints-1) - 1 }

// jawSquare is the mean of the places squared.
func jawSquare() float64 {
	sum := 0.0
	for i := range caliperPoints {
		sum += jawPlace(i) * jawPlace(i) / caliperPoints
	}
	return sum
}

// jawFit is the parabola mean + tilt t + bend (t² - mean of t²) that lies closest to the radii under the jaws; left
// is the largest distance of a radius from it.
type jawFit struct{ mean, tilt, bend, left float64 }

func fitJaw(r [caliperPoints]float64) jawFit {
	t2, t4 := jawSquare(), 0.0
	var f jawFit
	for i, v := range r {
		t := jawPlace(i)
		t4 += t * t * t * t / caliperPoints
		f.mean += v / caliperPoints
		f.tilt += v * t / caliperPoints / t2
		f.bend += v * (t*t - t2) / caliperPoints
	}
	f.bend /= t4 - t2*t2
	for i, v := range r {
		f.left = math.Max(f.left, math.Abs(v-f.at(jawPlace(i))))
	}
	return f
}

func (f jawFit) at(t float64) float64 { return f.mean + f.tilt*t + f.bend*(t*t-jawSquare()) }

// extreme returns where under the jaws the crest or bottom is, if the radius bends by more than limit.
func (f jawFit) extreme(limit float64) (t float64, ok bool) {
	if math.Abs(f.bend) <= limit {
		return 0, false
	}
	t = -f.tilt / (2 * f.bend)
	return t, math.Abs(t) < 1
}

// other tells whether the scale is the only one.
func (f ScaleFit) other() []string {
	for _, c := range f.others {
		if c.sigma < 1.5*f.Sigma {
			return []string{fmt.Sprintf("The known sizes would also fit a piece %+.0f %% in size: give one more, best the overall length.", 100*(c.k/f.K-1))}
		}
	}
	return nil
}

// scaled returns the sizes with the trace's lengths multiplied by k.
func (s sizes) scaled(k float64) sizes {
	s.trace = ScaleTrace(s.trace, k)
	return s
}

// misses tell which readings do not agree with the trace as it is scaled.
func (s sizes) misses() (out []string) {
	for i, r := range s.readings(1) {
		if math.Abs(r.off) <= contradiction*r.sigma {
			continue
		}
		what := fmt.Sprintf("the overall length of %.2f mm", s.length)
		if i < len(s.known) {
			what = fmt.Sprintf("the diameter of %.2f mm at %.1f mm", s.known[i].D, s.known[i].X)
		}
		out = append(out, fmt.Sprintf("By the scale in use, %s should be %.2f mm less: measure it again.", what, r.off))
		if r.off < 0 {
			out[len(out)-1] = fmt.Sprintf("By the scale in use, %s should be %.2f mm more: measure it again.", what, -r.off)
		}
	}
	return out
}
