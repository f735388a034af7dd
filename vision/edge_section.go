package vision

import (
	"math"
)

// A section is a stretch of the contour whose pixels together, at all their distances from the edge,
// show the course of the light across it far more finely than one row of pixels does. What it shows,
// the blur and the shading towards the edge, is then expected of every point of the stretch.
const (
	sectionReach = 40  // contour points to either side
	sectionStep  = 20  // points from one section to the next
	sectionLeast = 12  // points that must take part
	sectionBin   = 0.1 // px: pixels at like distances are taken together
	sectionClear = 8   // points from a corner
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

// sectionList holds what to expect of the points of each section.
type sectionList []priors

// at is what to expect of contour point i.
func (l sectionList) at(i int) *priors { return &l[i/sectionStep] }

// softness is how much further than about a sharp edge the pixels of this contour are to be gathered: its
// usual blur in pixels, and no less than 1.
func (f *fitter) softness(points []contourPoint, seen []reading) float64 {
	var v []float64
	for _, st := range f.freeSections(gatherBlocks(points, seen), 4) { // every fourth one is enough to know the picture
		if st[byLuma].OK {
			v = append(v, st[byLuma].blur())
		}
	}
	return math.Max(1, quantile(v, blurQuantile))
}

// freeSections fits each stride-th section with the blur free.
func (f *fitter) freeSections(blocks []block, stride int) [][2]step {
	fits := make([][2]step, len(blocks))
	f.overSections((len(fits)+stride-1)/stride, func(r *sectionRoom, k int) {
		k *= stride
		fits[k] = f.section(r, blocks, k, blurs{0.9, 0.9}, 0.5, nil)
	})
	return fits
}

// sections fits all sections of the contour: first with the blur free, then with the blur of the sections around.
func (f *fitter) sections(points []contourPoint, seen []reading) sectionList {
	blocks := gatherBlocks(points, seen)
	fits := f.freeSections(blocks, 1)
	out := make(sectionList, len(fits))
	f.overSections(len(fits), func(r *sectionRoom, k int) {
		around := blursAround(fits, k)
		st := f.section(r, blocks, k, around, 0.01, &fits[k])
		for kind := range st {
			out[k][kind] = loosePrior()
			out[k][kind].mean[atBlur] = math.Log(around[kind])
			if st[kind].OK {
				out[k][kind] = st[kind].tight()
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
			if st := &fits[((k+j)%n+n)%n][kind]; st.OK {
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

// block holds the samples of sectionStep points from a section's middle on, by luma and by colour. Neighbouring
// sections share their blocks.
type block [2]binned

func gatherBlocks(points []contourPoint, seen []reading) []block {
	n := len(points)
	out := make([]block, (n+sectionStep-1)/sectionStep)
	parallel(len(out), func(k int) {
		for i := k * sectionStep; i < min(n, (k+1)*sectionStep); i++ {
			if q := &seen[i]; q.ok && points[i].corner >= sectionClear {
				out[k][q.kind].add(q)
			}
		}
	})
	return out
}

// sectionRoom is the working space of the fits of sections, for one goroutine.
type sectionRoom struct {
	all     binned
	samples []edgeSample
}

// overSections calls do for 0..n-1 on all processors, with room for each goroutine's use.
func (f *fitter) overSections(n int, do func(r *sectionRoom, k int)) {
	const chunk = 16
	parallel((n+chunk-1)/chunk, func(c int) {
		var r sectionRoom
		for k := c * chunk; k < min(n, (c+1)*chunk); k++ {
			do(&r, k)
		}
	})
}

// section fits the stretch about the first point of block k, by luma and by colour; last, unless it is nil, is what
// was found with a less certain blur.
func (f *fitter) section(r *sectionRoom, blocks []block, k int, blur blurs, spread float64, last *[2]step) (out [2]step) {
	const reach = sectionReach / sectionStep
	n := len(blocks)
	for kind := range out {
		r.all.empty()
		for b := k - reach; b < k+reach; b++ {
			r.all.join(&blocks[(b%n+n)%n][kind])
		}
		if r.all.points >= sectionLeast {
			prior := sectionPrior(blur[kind], spread)
			prior.texture = r.all.meanTexture()
			r.samples = r.all.appendTo(r.samples[:0])
			if last != nil && last[kind].OK {
				out[kind] = f.limb.fitAgain(r.samples, 1.5, prior, &last[kind])
			} else {
				out[kind] = f.limb.fitStep(r.samples, 1.5, prior)
			}
		}
	}
	return out
}

// binned collects samples by their distance from the contour.
type binned struct {
	points  int
	texture [2]float64
	from    int // the distance of the first bin, in bins
	n, v    []float64
}

func (b *binned) add(q *reading) {
	b.points++
	for k := range b.texture {
		b.texture[k] += q.texture[k]
	}
	for _, s := range q.samples[:q.middle] {
		k := b.index(int(math.Floor(s.d / sectionBin)))
		b.n[k]++
		b.v[k] += s.v
	}
}

// join adds the samples of another.
func (b *binned) join(c *binned) {
	b.points += c.points
	for k := range b.texture {
		b.texture[k] += c.texture[k]
	}
	if len(c.n) == 0 {
		return
	}
	b.index(c.from + len(c.n) - 1)
	at := b.index(c.from)
	for i := range c.n {
		b.n[at+i] += c.n[i]
		b.v[at+i] += c.v[i]
	}
}

// index is the place of bin k, for which it makes room.
func (b *binned) index(k int) int {
	const room = 64 // bins at once: a sharp edge's samples span fewer to either side of the contour
	if len(b.n) == 0 {
		b.from, b.n, b.v = -room, make([]float64, 2*room), make([]float64, 2*room)
	}
	if k < b.from {
		more := b.from - k + room
		b.n, b.v, b.from = append(make([]float64, more), b.n...), append(make([]float64, more), b.v...), b.from-more
	}
	if k -= b.from; k >= len(b.n) {
		more := k - len(b.n) + room
		b.n, b.v = append(b.n, make([]float64, more)...), append(b.v, make([]float64, more)...)
	}
	return k
}

func (b *binned) meanTexture() (t [2]float64) {
	for k := range t {
		t[k] = b.texture[k] / float64(b.points)
	}
	return t
}

// empty takes all samples out again.
func (b *binned) empty() {
	clear(b.n)
	clear(b.v)
	b.points, b.texture = 0, [2]float64{}
}

// appendTo appends one sample for each bin that holds any.
func (b *binned) appendTo(out []edgeSample) []edgeSample {
	for k, n := range b.n {
		if n > 0 {
			out = append(out, edgeSample{(float64(k+b.from) + 0.5) * sectionBin, b.v[k] / n, n})
		}
	}
	return out
}
