package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// edgeFit is a contour point with the step fitted across it.
type edgeFit struct {
	contourPoint
	step
	share float64 // of the contour's length, px, that the point stands for
}

// fitter fits steps to the edges of one picture.
type fitter struct {
	r     *raster
	limb  *limbTable
	tones toneTable
}

// roughStride is the pitch (contour points) at which the edge is looked for at first.
const roughStride = 3

// roughPlenty is about how many points are enough for that: a large picture's contour turns no faster than a small one's.
const roughPlenty = 2500

// refineEdges moves the closed contour q onto the edge to a fraction of a pixel: first each point by
// itself, then with what the stretch about it shows.
func refineEdges(r *raster, q []r2.Vec) []edgeFit {
	f := &fitter{r: r, limb: newLimbTable(), tones: newToneTable()}
	points := survey(respace(q))
	picks := every(len(points), max(roughStride, len(points)/roughPlenty))
	loose := &priors{loosePrior(), loosePrior()}
	seen := f.readAll(points, picks, 1)
	fits := f.fitAll(points, picks, seen, 3, func(int) *priors { return loose })
	for k, i := range picks {
		seen[i].shift(&fits[k].step)
	}
	scale := f.softness(points, seen)
	points = survey(rebuild(fits, 1.5))
	picks = pick(points, pitch(len(points), scale))
	seen = f.readAll(points, picks, scale)
	local := f.sections(points, seen)
	return f.fitAll(points, picks, seen, 1.5, local.at)
}

// shift counts the distances of the samples from the fitted edge; without one they tell nothing.
func (q *reading) shift(st *step) {
	q.ok = q.ok && st.OK
	for i := range q.samples {
		q.samples[i].d -= st.at()
	}
}

// How the points to be fitted are picked: the pixels about neighbours are nearly the same.
const (
	pickStride = 2        // contour points, in a sharp picture
	pickWidest = 3        // contour points, in a large blurred one: what lies 3.5 px apart counts as parted (view)
	pickPlenty = 8000     // contour points, from which on a large picture has more than enough
	pickCorner = 10       // points from a corner within which every one counts
	pickBend   = 1.0 / 40 // 1/px: rounder than that and every one counts
)

// pitch is how far apart the fitted points of n stand in a picture whose edges are scale times as soft as sharp ones.
func pitch(n int, scale float64) int {
	return min(pickWidest, int(pickStride*scale*math.Max(1, float64(n)/pickPlenty)))
}

// pick chooses the points that are fitted, stride points apart where the contour runs straight.
func pick(points []contourPoint, stride int) []int {
	var out []int
	for i := range points {
		c := &points[i]
		if i%stride == 0 || c.corner <= pickCorner || math.Abs(c.bend) > pickBend {
			out = append(out, i)
		}
	}
	return out
}

// every is each stride-th of n points.
func every(n, stride int) (out []int) {
	for i := 0; i < n; i += stride {
		out = append(out, i)
	}
	return out
}

// readAll reads the pixels about the picked points; scale widens the reach about each.
func (f *fitter) readAll(points []contourPoint, picks []int, scale float64) []reading {
	out := make([]reading, len(points))
	f.chunks(len(picks), func(e *edgeReader, k int) {
		e.scale = scale
		out[picks[k]] = e.read(&points[picks[k]])
	})
	return out
}

// fitAll fits a step across every picked point; the edge may be reach px off the contour.
func (f *fitter) fitAll(points []contourPoint, picks []int, seen []reading, reach float64, prior func(i int) *priors) []edgeFit {
	out := make([]edgeFit, len(picks))
	n := len(points)
	f.chunks(len(picks), func(_ *edgeReader, k int) {
		i := picks[k]
		before, after := i-picks[(k+len(picks)-1)%len(picks)], picks[(k+1)%len(picks)]-i
		share := float64((before+n)%n+(after+n)%n) / 2
		out[k] = edgeFit{points[i], f.limb.fitReading(&seen[i], reach, prior(i)), share}
	})
	return out
}

// chunks calls do for 0..n-1 on all processors, with a reader for each goroutine's use.
func (f *fitter) chunks(n int, do func(e *edgeReader, k int)) {
	const chunk = 64
	parallel((n+chunk-1)/chunk, func(c int) {
		e := &edgeReader{r: f.r, tones: f.tones}
		for k := c * chunk; k < min(n, (c+1)*chunk); k++ {
			do(e, k)
		}
	})
}

// priors are what is expected of a step read from luma and of one read from the colours.
type priors [2]stepPrior

// fitReading fits the step across one point.
func (t *limbTable) fitReading(q *reading, reach float64, p *priors) step {
	if !q.ok {
		return step{}
	}
	prior := p[q.kind]
	prior.texture = q.texture
	var buf [128]edgeSample
	st := t.placeStep(append(buf[:0], q.samples...), reach, &prior)
	st.kind = q.kind
	return st
}

// rebuild lays the contour through the fitted edges. Points without a fit, or whose shift leaves that
// of their neighbours by more than limit px, follow their neighbours.
func rebuild(fits []edgeFit, limit float64) []r2.Vec {
	n := len(fits)
	out := make([]r2.Vec, n)
	var buf []float64
	for i := range fits {
		f := &fits[i]
		buf = buf[:0]
		for k := -4; k <= 4; k++ {
			if g := &fits[((i+k)%n+n)%n]; g.OK {
				buf = append(buf, g.at())
			}
		}
		mid := quantile(buf, 0.5)
		shift := f.at()
		if !f.OK || math.Abs(shift-mid) > limit {
			shift = mid
		}
		out[i] = r2.Add(f.p, r2.Scale(shift, f.n))
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
