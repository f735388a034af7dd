package view

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

const (
	// Standard deviations of how the piece lies, mm. Boards are raised to the axis, and heights are stated, by a rule to
	// the nearest millimetre (evenly spread, GUM 4.3.7); a piece that lies touches the plane, but boards curl and tables
	// are not flat (common practice, no source).
	raisedSigma, fixedSigma, lyingSigma = 0.3, 0.3, 0.3
	// budgetWindow is half the stretch over which effects of the scene are read off, mm: longer than a shoulder's smear.
	budgetWindow = 8.0
	// variantPrior keeps a scale from known sizes at the same answer while the scene is varied, a fraction.
	variantPrior = 0.05
)

// budget is what the uncertainty of the diameters is made of, standard deviations by sample: of diameters as fractions
// for what the scene contributes, in mm for what the outline does.
type budget struct {
	scene   []float64 // fraction: camera, plane and scale
	height  float64   // fraction
	known   float64   // fraction: what known sizes leave open of the scale
	bias    []float64 // mm: of both edges alike
	edge    []float64 // mm: both edges, at one station
	asym    []float64 // mm
	x       []float64 // mm, of stations
	station []float64 // mm: what that does to the diameter
	length  float64   // mm
}

// budget varies the reference, one independent direction at a time, and reads what that does to the trace.
func (g gauged) budget(s silhouette, at placed, t profile.Trace, fit *ScaleFit) budget {
	n := len(t.Samples)
	b := budget{scene: make([]float64, n), x: make([]float64, n), height: g.heightSigma() / at.p.D}
	if g.free {
		b.height = 0
	}
	scale := b.height
	if fit != nil {
		b.known = fit.Sigma
		scale = math.Hypot(scale, b.known)
	}
	found := g.variations(s, at)
	px := at.p.MMPerPixel(t.Length / 2)
	start := math.Hypot(at.ends[0].sigma, unknownEdge*px)
	for i, q := range t.Samples {
		moved := scale * q.X
		variance := start*start + moved*moved
		for _, v := range found {
			k := v.change[min(len(v.change)-1, int(q.X/coarse))]
			b.scene[i] += k * k
			dx := v.shift[min(len(v.shift)-1, int(q.X/coarse))]
			variance += dx * dx
		}
		b.scene[i], b.x[i] = math.Sqrt(b.scene[i]+b.known*b.known), math.Sqrt(variance)
	}
	b.length = scale * scale * t.Length * t.Length
	for _, v := range found {
		b.length += v.longer * v.longer
	}
	far := math.Hypot(at.ends[1].sigma, unknownEdge*px)
	b.length = math.Sqrt(b.length + start*start + far*far)
	b.ofOutline(at, t)
	return b
}

// variation is what one variant of the reference changes.
type variation struct {
	change []float64 // of the radius, as a fraction, every coarse step
	shift  []float64 // of the station, mm, every coarse step
	longer float64   // mm, the two ends found anew: their near faces move against the axis
}

// variations places the silhouette with every variant of the reference, side by side on all processors. A variant that
// cannot be placed says nothing.
func (g gauged) variations(s silhouette, at placed) []variation {
	s = s.beside(at)
	prior := g.variantPrior()
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
				found[i].change, found[i].shift = []float64{0}, []float64{0}
				return
			}
			same := sameStation(at.p, other.p)
			found[i] = variation{at.changes(other, same), at.shifts(same), other.ends[1].x - at.ends[1].x}
		})
	}
	wait.Wait()
	return found
}

// beside returns the silhouette thinned, with what a scene says that is nearly the same.
func (s silhouette) beside(at placed) silhouette {
	s = s.thinned()
	s.variant, s.squares = true, at.squares
	s.start, s.known = at.height[0], &at.ends
	s.rough = [2]r2.Vec{at.p.ToPixel(at.p.U(0), 0), at.p.ToPixel(at.p.U(at.ends[1].x), 0)}
	return s
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

// enter writes the expanded uncertainties (k = 2) into the trace: the root of the sum of squares (GUM 5.1.2).
func (b budget) enter(t *profile.Trace) {
	for i := range t.Samples {
		s := &t.Samples[i]
		scene := 2 * s.R * math.Hypot(b.scene[i], b.height)
		shared := scene*scene + b.bias[i]*b.bias[i]
		s.Shared = 2 * math.Sqrt(shared)
		s.U = 2 * math.Sqrt(shared+b.edge[i]*b.edge[i]+b.asym[i]*b.asym[i]+b.station[i]*b.station[i])
	}
	t.ULength = 2 * b.length
}

// sameStation returns the function that takes a station to the one that the other projector sees at its pixel.
func sameStation(p, other Projector) func(x float64) float64 {
	return func(x float64) float64 {
		u, _ := other.ToAxis(p.ToPixel(p.U(x), 0))
		return other.Station(u)
	}
}

// shifts returns, every coarse step along the piece, how much further from its own hook end the other placing puts the
// same pixels, mm.
func (a placed) shifts(same func(float64) float64) []float64 {
	out := make([]float64, int(a.ends[1].x/coarse)+1)
	for i := range out {
		x := coarse * float64(i)
		out[i] = same(x) - x
	}
	return out
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
