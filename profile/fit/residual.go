package fit

import (
	"math"

	"spindlestick/profile"
)

// Residual returns the root mean square distance of the trace from an element as it stands, mm (of radius), without the
// samples beside its stations, which blur belongs to; 0 where the trace shows nothing of it.
func Residual(e profile.Element, t profile.Trace) float64 {
	pts := inside(t, e, leastNoise)
	if len(pts) == 0 {
		return 0
	}
	var curves []curve
	for _, s := range e.Segments() {
		curves = append(curves, newCurve(s))
	}
	sum := 0.0
	for _, p := range pts {
		d := math.Inf(1)
		for _, c := range curves {
			d = math.Min(d, math.Abs(c.distance(p.x, p.r)))
		}
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(pts)))
}
