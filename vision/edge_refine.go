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

// refineEdges moves the closed contour q onto the edge to a fraction of a pixel. Three passes: find
// the edge about the traced contour, then measure its blur, then measure its place with the blur held.
func refineEdges(r *raster, q []r2.Vec) []edgeFit {
	q = respace(q)
	t := newLimbTable()
	loose := stepPrior{blur: 0.9, blurSigma: 1e-3, limbSigma: 0.01} // px: a sharp picture, until it is measured
	fits := fitAll(r, t, survey(q), 3, func(int) priors { return priors{loose, loose} })
	q = rebuild(fits, 1.5)
	loose.blurSigma, loose.limbSigma = 0.5, 0.3
	fits = fitAll(r, t, survey(q), 1.5, func(int) priors { return priors{loose, loose} })
	local := localPriors(fits)
	q = rebuild(fits, 1)
	points := survey(q)
	return fitAll(r, t, points, 1.5, func(i int) priors { return local[i*len(fits)/len(points)] })
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
	e.scale = math.Max(1, p[byLuma].blur)
	e.read(c)
	s, ok := e.look(mixGap * e.scale)
	if !ok {
		return step{}
	}
	value, kind, ok := e.coverage(s)
	if !ok {
		return step{}
	}
	p[kind].texture = e.texture(value, mixGap*e.scale)
	st := t.fitStep(e.take(alongReach*e.scale, acrossReach*e.scale, value), reach, p[kind])
	st.kind = kind
	return st
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
				buf = append(buf, g.At)
			}
		}
		mid := quantile(buf, 0.5)
		shift := f.At
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

// blurWindow is how many points the blur is averaged over: long enough for a steady median, short
// enough to follow the depth of field along the piece.
const blurWindow = 150

// limbSpread is how far a limb may differ from those along the same stretch.
const limbSpread = 0.05

// localPriors are the running medians of the fitted blurs and limbs.
func localPriors(fits []edgeFit) []priors {
	n := len(fits)
	out := make([]priors, n)
	var last priors
	for i := range out {
		if i%10 == 0 {
			last = priors{localPrior(fits, i, byLuma), localPrior(fits, i, byColour)}
		}
		out[i] = last
	}
	return out
}

func localPrior(fits []edgeFit, i int, kind measure) stepPrior {
	n := len(fits)
	var blur, limb []float64
	for k := -blurWindow; k <= blurWindow; k += 2 {
		f := fits[((i+k)%n+n)%n]
		if f.OK && f.kind == kind && f.corner > cornerReach {
			blur = append(blur, f.Blur)
			limb = append(limb, f.Limb)
		}
	}
	out := stepPrior{blur: 0.9, blurSigma: 1e-3, limbSigma: limbSpread}
	if len(blur) >= 20 {
		out.blur = math.Max(0.4, quantile(blur, 0.5)) // px: a pixel's own width is 0.29
		out.limb = quantile(limb, 0.5)
	}
	return out
}
