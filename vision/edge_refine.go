package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// edgeFit is a contour point with the step fitted across it.
type edgeFit struct {
	contourPoint
	step
}

// refineEdges moves the closed contour q onto the edge to a fraction of a pixel: first each point by
// itself, then twice with what the stretch about it shows.
func refineEdges(r *raster, q []r2.Vec) []edgeFit {
	t := newLimbTable()
	points := survey(respace(q))
	fits := fitAll(r, t, points, 3, func(int) priors { return priors{loosePrior(), loosePrior()} })
	for _, limit := range [2]float64{1.5, 0.7} {
		points = survey(rebuild(fits, limit))
		local := sections(r, t, points)
		fits = fitAll(r, t, points, 1.5, func(i int) priors { return local[i] })
	}
	return fits
}

// fitAll fits a step across every point; the edge may be reach px off the contour.
func fitAll(r *raster, t *limbTable, points []contourPoint, reach float64, prior func(i int) priors) []edgeFit {
	out := make([]edgeFit, len(points))
	const chunk = 64
	parallel((len(points)+chunk-1)/chunk, func(k int) {
		e := &edgeReader{r: r}
		for i := k * chunk; i < min(len(points), (k+1)*chunk); i++ {
			out[i] = edgeFit{points[i], e.fit(t, points[i], reach, prior(i))}
		}
	})
	return out
}

// priors are what is expected of a step read from luma and of one read from the colours.
type priors [2]stepPrior

// fit fits the step across one point.
func (e *edgeReader) fit(t *limbTable, c contourPoint, reach float64, p priors) step {
	e.scale = math.Max(1, math.Exp(p[byLuma].mean[atBlur]))
	value, kind, ok := e.open(c)
	if !ok {
		return step{}
	}
	p[kind].texture = e.texture(value, mixGap*e.scale)
	st := t.fitStep(e.take(alongReach*e.scale, acrossReach*e.scale, value), reach, p[kind])
	st.kind = kind
	return st
}

// open reads the pixels about a point and chooses the measure its step is read from.
func (e *edgeReader) open(c contourPoint) (value func(q *nearPixel) float64, kind measure, ok bool) {
	e.read(c)
	s, ok := e.look(mixGap * e.scale)
	if !ok {
		return nil, byLuma, false
	}
	return e.coverage(s)
}

// rebuild lays the contour through the fitted edges. Points without a fit, or whose shift leaves that
// of their neighbours by more than limit px, follow their neighbours.
func rebuild(fits []edgeFit, limit float64) []r2.Vec {
	n := len(fits)
	var out []r2.Vec
	var buf []float64
	for i, f := range fits {
		buf = buf[:0]
		for k := -4; k <= 4; k++ {
			if g := fits[((i+k)%n+n)%n]; g.OK {
				buf = append(buf, g.at())
			}
		}
		mid := quantile(buf, 0.5)
		shift := f.at()
		if !f.OK || math.Abs(shift-mid) > limit {
			shift = mid
		}
		out = append(out, r2.Add(f.p, r2.Scale(shift, f.n)))
	}
	return respace(unfold(out, fits))
}

// unfold drops points that lie behind their predecessor along the walk: at a hollow corner the
// normals of the two flanks cross.
func unfold(q []r2.Vec, fits []edgeFit) []r2.Vec {
	out := q[:1:1]
	for i := 1; i < len(q); i++ {
		d := r2.Sub(q[i], out[len(out)-1])
		if r2.Dot(d, fits[i].t) > 0 || r2.Norm(d) > 3 {
			out = append(out, q[i])
		}
	}
	return out
}
