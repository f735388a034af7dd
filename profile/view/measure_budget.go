package view

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

const (
	// edgeBias is the standard deviation of an edge's bias that both sides share, px: shading towards the limb and
	// in-camera sharpening move a sub-pixel edge by a few hundredths even in linear light.
	edgeBias = 0.05
	// Standard deviations of how the piece lies, mm. Boards are raised to the axis, and heights are stated, by a rule to
	// the nearest millimetre; a piece that lies touches the plane, but boards curl and tables are not flat (common
	// practice, no source).
	raisedSigma, fixedSigma, lyingSigma = 0.5, 0.5, 0.3
	// budgetWindow is half the stretch over which effects of the scene are read off, mm: longer than a shoulder's smear.
	budgetWindow = 8.0
	// variantPrior keeps a scale from known sizes at the same answer while the scene is varied, a fraction.
	variantPrior = 0.05
)

// budget is what the uncertainty of the diameters is made of, standard deviations: of diameters as fractions for
// what the scene contributes, in mm for what the outline does.
type budget struct {
	scene  []float64 // fraction, by sample: camera, plane and scale
	height float64   // fraction
	edge   []float64 // mm, by sample
	asym   []float64 // mm, by sample
	x      float64   // mm, of stations
	length float64   // mm
}

// budget varies the reference, one independent direction at a time, and reads what that does to the trace.
func (g gauged) budget(s silhouette, at placed, t profile.Trace, fit *ScaleFit) budget {
	b := budget{scene: make([]float64, len(t.Samples)), height: g.heightSigma() / at.p.D}
	if g.free {
		b.height = 0
	}
	for _, v := range g.variations(s, at) {
		for i, q := range t.Samples {
			k := v.change[min(len(v.change)-1, int(q.X/coarse))]
			b.scene[i] += k * k
		}
		b.length += v.longer * v.longer
	}
	scale := 0.0
	if fit != nil {
		scale = fit.Sigma
	}
	for i := range b.scene {
		b.scene[i] = math.Sqrt(b.scene[i] + scale*scale)
	}
	b.x = math.Hypot(at.ends[0].sigma, edgeBias*at.p.MMPerPixel(t.Length/2))
	tips := math.Sqrt2 * edgeBias * at.p.MMPerPixel(t.Length/2)
	b.length = math.Sqrt(b.length + tips*tips + at.ends[0].sigma*at.ends[0].sigma + at.ends[1].sigma*at.ends[1].sigma + scale*scale*t.Length*t.Length)
	b.ofOutline(at, t)
	return b
}

// variation is what one variant of the reference changes.
type variation struct {
	change []float64 // of the radius, as a fraction, every coarse step
	longer float64   // mm
}

// variations places the silhouette with every variant of the reference, side by side on all processors. A variant that
// cannot be placed says nothing.
func (g gauged) variations(s silhouette, at placed) []variation {
	s = s.thinned()
	s.start, s.known = at.height[0], &at.ends
	s.rough = [2]r2.Vec{at.p.ToPixel(at.p.U(0), 0), at.p.ToPixel(at.p.U(at.ends[1].x), 0)}
	prior := g.prior
	if g.free {
		prior = variantPrior
	}
	at, _, err := g.place(s, g.ref, prior)
	if err != nil {
		return nil
	}
	variants := g.ref.Variants()
	found := make([]variation, len(variants))
	var wait sync.WaitGroup
	for i, r := range variants {
		wait.Go(func() {
			other, _, err := g.place(s, r, prior)
			if err != nil {
				found[i].change = []float64{0}
				return
			}
			same := sameStation(at.p, other.p)
			found[i] = variation{at.changes(other, same), same(at.ends[1].x) - same(0) - at.ends[1].x}
		})
	}
	wait.Wait()
	return found
}

func (g gauged) heightSigma() float64 {
	switch g.height.Mode {
	case Raised:
		return raisedSigma
	case Fixed:
		return fixedSigma
	}
	return lyingSigma
}

// ofOutline fills in what the edges contribute: their scatter, their bias, the slope of the profile times the
// uncertainty of the station, and the difference of the two sides, which may lie anywhere between them
// (rectangular, GUM 4.3.7).
func (b *budget) ofOutline(at placed, t profile.Trace) {
	n := len(t.Samples)
	b.edge, b.asym = make([]float64, n), make([]float64, n)
	half := int(budgetWindow / 4 / traceStep)
	var diff []float64
	for i, s := range t.Samples {
		bias := 2 * edgeBias * at.p.MMPerPixel(s.X)
		slope := 0.0
		if j, k := max(0, i-1), min(n-1, i+1); t.Samples[k].X > t.Samples[j].X {
			slope = math.Abs(t.Samples[k].R-t.Samples[j].R) / (t.Samples[k].X - t.Samples[j].X)
		}
		b.edge[i] = math.Sqrt(s.U*s.U/4 + bias*bias + 4*slope*slope*b.x*b.x)
		if s.State != profile.Visible {
			continue
		}
		diff = diff[:0]
		for _, o := range t.Samples[max(0, i-half):min(n, i+half+1)] {
			if o.State == profile.Visible {
				diff = append(diff, o.Sides[1]-o.Sides[0])
			}
		}
		b.asym[i] = math.Abs(median(diff)) / math.Sqrt(3)
	}
}

// enter writes the expanded uncertainties (k = 2) into the trace: the root of the sum of squares (GUM 5.1.2).
func (b budget) enter(t *profile.Trace) {
	for i := range t.Samples {
		s := &t.Samples[i]
		d := 2 * s.R
		rel := b.scene[i]*b.scene[i] + b.height*b.height
		s.U = 2 * math.Sqrt(d*d*rel+b.edge[i]*b.edge[i]+b.asym[i]*b.asym[i])
	}
	t.ULength = 2 * math.Sqrt(b.length*b.length+t.Length*t.Length*b.height*b.height)
}

// sameStation returns the function that takes a station to the one that the other projector sees at its pixel.
func sameStation(p, other Projector) func(x float64) float64 {
	return func(x float64) float64 {
		u, _ := other.ToAxis(p.ToPixel(p.U(x), 0))
		return other.Station(u)
	}
}

// changes returns, every coarse step along the piece, by what fraction the radius differs in the other placing at the
// same pixels, as the median over a stretch around it: a station that moves by hundredths of a millimetre must not
// count as a changed diameter beside a shoulder.
func (a placed) changes(other placed, same func(float64) float64) []float64 {
	n := int(a.ends[1].x/coarse) + 1
	each := make([]float64, n)
	for i := range each {
		x := coarse * float64(i)
		r, ok := a.radius(x)
		s, seen := other.radius(same(x))
		if ok && seen && r > 0 {
			each[i] = s/r - 1
		}
	}
	out := make([]float64, n)
	half := int(budgetWindow / coarse)
	for i := range each {
		part := append([]float64(nil), each[max(0, i-half):min(n, i+half+1)]...)
		out[i] = median(part)
	}
	return out
}

// radius is the mean of what both sides read at station x.
func (a placed) radius(x float64) (float64, bool) {
	p, ok := a.contours[0].nearest(x)
	q, seen := a.contours[1].nearest(x)
	return (p.r + q.r) / 2, ok && seen
}
