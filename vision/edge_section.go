package vision

import (
	"math"
)

// A section is a stretch of the contour whose pixels together, at all their distances from the edge,
// show the course of the light across it far more finely than one row of pixels does. What it shows,
// the blur and the shading towards the edge, is then expected of every point of the stretch.
const (
	sectionReach = 40   // contour points to either side
	sectionStep  = 20   // points from one section to the next
	sectionLeast = 12   // points that must take part
	sectionBin   = 0.05 // px: pixels at like distances are taken together
	sectionClear = 8    // points from a corner
)

// loosePrior is what is expected of a point before anything is measured: a sharp picture and even light.
func loosePrior() stepPrior {
	return stepPrior{mean: stepVec{atBlur: math.Log(0.9)}, sd: stepVec{atBlur: 0.01, atLimb: 0.02, atIn: 0.01, atOut: 0.01}}
}

// sectionPrior is what is expected of a whole section: its limb and slopes are found from it, and its
// blur (px) to within the relative spread.
func sectionPrior(blur, spread float64) stepPrior {
	return stepPrior{mean: stepVec{atBlur: math.Log(blur)}, sd: stepVec{atBlur: spread, atLimb: 0.05, atIn: 0.02, atOut: 0.02}}
}

// tight turns a fitted section into what is expected of its points: levels vary with the grain, the
// rest hardly does.
func (s *step) tight() stepPrior {
	return stepPrior{mean: s.stepVec, sd: stepVec{atBlur: 0.01, atA: 0.1, atB: 0.05, atLimb: 0.02, atIn: 0.005, atOut: 0.005}}
}

// blurs is what is known of the blur by luma and by colour, px.
type blurs [2]float64

// The blur is measured over this many sections to either side, as this quantile of theirs: grain and
// shading only ever make an edge look softer.
const (
	blurSections = 12
	blurQuantile = 0.3
)

// sections fits all sections of the contour and returns for each point what to expect of it: first
// with the blur free, then with the blur of the sections around.
func sections(r *raster, t *limbTable, points []contourPoint) []priors {
	n := (len(points) + sectionStep - 1) / sectionStep
	fits, out := make([][2]step, n), make([]priors, len(points))
	parallel(n, func(k int) {
		fits[k] = (&edgeReader{r: r}).section(t, points, k*sectionStep, blurs{0.9, 0.9}, 0.5)
	})
	parallel(n, func(k int) {
		around := blursAround(fits, k)
		st := (&edgeReader{r: r}).section(t, points, k*sectionStep, around, 0.01)
		for i := k * sectionStep; i < min(len(points), (k+1)*sectionStep); i++ {
			for kind := range st {
				out[i][kind] = loosePrior()
				out[i][kind].mean[atBlur] = math.Log(around[kind])
				if st[kind].OK {
					out[i][kind] = st[kind].tight()
				}
			}
		}
	})
	return out
}

// blursAround is the blur about section k.
func blursAround(fits [][2]step, k int) (out blurs) {
	n := len(fits)
	for kind := range out {
		var v []float64
		for j := -blurSections; j <= blurSections; j++ {
			if st := fits[((k+j)%n+n)%n][kind]; st.OK {
				v = append(v, st.blur())
			}
		}
		out[kind] = 0.9
		if len(v) > 2 {
			out[kind] = math.Max(0.35, quantile(v, blurQuantile)) // px: a pixel alone has 0.29
		}
	}
	return out
}

// section fits the stretch about point i, by luma and by colour.
func (e *edgeReader) section(t *limbTable, points []contourPoint, i int, blur blurs, spread float64) (out [2]step) {
	n := len(points)
	e.scale = math.Max(1, blur[byLuma])
	var bins [2]binned
	for k := -sectionReach; k <= sectionReach; k += 2 {
		c := points[((i+k)%n+n)%n]
		if c.corner < sectionClear {
			continue
		}
		if value, kind, ok := e.open(c); ok {
			bins[kind].add(e.take(1, acrossReach*e.scale, value), e.texture(value, mixGap*e.scale))
		}
	}
	for kind := range bins {
		if bins[kind].points >= sectionLeast {
			prior := sectionPrior(blur[kind], spread)
			prior.texture = bins[kind].meanTexture()
			out[kind] = t.fitStep(bins[kind].samples(), 1.5, prior)
		}
	}
	return out
}

// binned collects samples by their distance from the contour.
type binned struct {
	points  int
	texture [2]float64
	n, v    map[int]float64
}

func (b *binned) add(s []edgeSample, texture [2]float64) {
	if b.n == nil {
		b.n, b.v = map[int]float64{}, map[int]float64{}
	}
	b.points++
	for k := range texture {
		b.texture[k] += texture[k]
	}
	for _, q := range s {
		k := int(math.Floor(q.d / sectionBin))
		b.n[k]++
		b.v[k] += q.v
	}
}

func (b *binned) meanTexture() (t [2]float64) {
	for k := range t {
		t[k] = b.texture[k] / float64(b.points)
	}
	return t
}

func (b *binned) samples() []edgeSample {
	var out []edgeSample
	for k, n := range b.n {
		out = append(out, edgeSample{(float64(k) + 0.5) * sectionBin, b.v[k] / n, n})
	}
	return out
}
