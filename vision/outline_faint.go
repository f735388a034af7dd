package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// A side in the piece's own shadow is as dark as the shadow, but of another hue. It is laid where the other
// side, in the light, mirrors to, and moved by what the hues show of it over stretches of that edge.
const (
	faintReach  = 16.0 // px to either side of the mirrored edge that are looked at
	faintWide   = 1.3  // the same at first, of the usual half-width: gloss and the shade on the round draw a first find aside
	faintFlank  = 8.0  // px from the edge in the light whose hue counts: further in there is gloss
	faintAlike  = 0.7  // cosine between the ways in which the hue changes at both edges
	faintPitch  = 0.5  // px
	faintWindow = 24   // points to either side whose light is taken together
	faintStep   = 12   // points from one stretch to the next
	faintBlur   = 1.3  // px: hue is stored at half the pitch of luma
	faintGap    = 2.5  // px about the edge where both hues mix
	faintClear  = 6.0  // of the step of hue over its scatter, from which on an edge is seen
	faintSigma  = 0.25 // px: standard deviation claimed, at least: stretches round what is smaller
	faintMiss   = 1.5  // px that an edge seen may lie off the course of the others
	faintSteep  = 0.5  // cosine between normal and axis beyond which a point says nothing of where the axis lies
	faintSeen   = 0.6  // of that side, at least
	faintRounds = 4    // of laying the axis anew; it settles within three
)

// faint looks for the edge on a side in shadow.
type faint struct {
	r    *raster
	c    *cover
	side int     // 0 left, 1 right
	sign float64 // of offsets on that side
	pts  []view.EdgePoint
	good []bool
	f    frame
	cam  view.Camera
}

// lit is the measured edge on the side in the light, in contour order.
func (w *faint) lit() (out []view.EdgePoint) {
	from, last := extremes(w.pts, w.f) // the left side is walked from the first end on
	if w.side == 0 {
		from = last
	}
	for k := range w.pts {
		i := (from + k) % len(w.pts)
		if _, y := w.f.of(w.pts[i].P); w.good[i] && y*w.sign < 0 {
			out = append(out, w.pts[i])
		}
	}
	return out
}

// faintPoint is one point of the mirrored edge, and the light across it by distance, outward.
type faintPoint struct {
	view.EdgePoint
	light []rgb // nil on a reference or off the picture
}

// faintStretch is what the hues show about one point: how far beyond the mirrored edge the edge lies.
type faintStretch struct {
	at    int
	off   float64
	sigma float64
	seen  bool
}

// faintSide replaces the points of a side in shadow (0 left, 1 right). It returns the contour anew, its
// frame, and the share of the side that was seen.
func faintSide(r *raster, c *cover, pts []view.EdgePoint, good []bool, side int, f frame, cam view.Camera) ([]view.EdgePoint, frame, float64) {
	w := &faint{r: r, c: c, side: side, sign: float64(1 - 2*side), pts: pts, good: good, f: f, cam: cam}
	lit := w.lit()
	way := w.litWay(lit)
	reach := math.Max(faintReach, faintWide*medianOf(len(lit), func(i int) float64 { _, y := f.of(lit[i].P); return math.Abs(y) }))
	for range faintRounds {
		edge := w.mirrored(w.lit(), reach)
		w.straighten(edge, w.stretches(edge, way))
		reach = faintReach
	}
	lit = w.lit()
	edge := w.mirrored(lit, faintReach)
	share := w.lay(edge, w.stretches(edge, way))
	dark := make([]view.EdgePoint, len(edge))
	for i := range edge {
		dark[len(edge)-1-i] = edge[i].EdgePoint
	}
	// The contour walks along the left side and back along the right one.
	if side == 0 {
		return append(dark, lit...), w.f, share
	}
	return append(lit, dark...), w.f, share
}

// mirrored is the lit side, mirrored about the axis, with the light across it.
func (w *faint) mirrored(lit []view.EdgePoint, reach float64) []faintPoint {
	l := newLevel(w.f, w.cam)
	out := make([]faintPoint, len(lit))
	parallel(len(out), func(i int) {
		p := lit[i]
		x, y := l.of(p.P)
		q := &out[i]
		q.EdgePoint = p
		q.P = l.at(x, -y)
		q.N = r2.Sub(p.N, r2.Scale(2*r2.Dot(p.N, w.f.N), w.f.N))
		q.light = w.across(q, reach)
	})
	return out
}

// across reads the light across a point, reach px to either side.
func (w *faint) across(q *faintPoint, reach float64) []rgb {
	if w.c.hides(q.P) {
		return nil
	}
	out := make([]rgb, 2*int(reach/faintPitch)+1)
	for k := range out {
		t, ok := w.r.toneAt(r2.Add(q.P, r2.Scale(faintDistance(k, len(out)), q.N)))
		if !ok {
			return nil
		}
		for h, v := range t {
			out[k][h] = lightOf(w.r.light, v)
		}
	}
	return out
}

// faintDistance is the distance from the edge of sample k of n across it, px outward.
func faintDistance(k, n int) float64 { return float64(k-n/2) * faintPitch }

// litWay is the way in which the hue changes at the edge in the light: with the same two surfaces meeting, it
// changes alike in the shadow.
func (w *faint) litWay(lit []view.EdgePoint) [3]float64 {
	edge := make([]faintPoint, len(lit))
	parallel(len(edge), func(i int) {
		edge[i].EdgePoint = lit[i]
		edge[i].light = w.across(&edge[i], faintFlank)
	})
	return faintDirection(huesAlong(edge))
}

// huesAlong are the hues across each stretch.
func huesAlong(edge []faintPoint) [][]colour {
	out := make([][]colour, (len(edge)+faintStep-1)/faintStep)
	parallel(len(out), func(k int) { out[k] = huesAcross(edge, k*faintStep) })
	return out
}

// stretches finds the edge over stretches of the mirrored one, where the hue changes in the way given.
func (w *faint) stretches(edge []faintPoint, way [3]float64) []faintStretch {
	hues := huesAlong(edge)
	out := make([]faintStretch, len(hues))
	parallel(len(out), func(k int) {
		out[k] = locateFaint(hues[k], way)
		out[k].at = k * faintStep
	})
	return out
}

// huesAcross is the hue by distance over the stretch about point i; nil if too little of it shows.
func huesAcross(edge []faintPoint, i int) []colour {
	var sum [][3]float64
	n := 0
	for k := max(0, i-faintWindow); k <= min(len(edge)-1, i+faintWindow); k++ {
		q := edge[k].light
		if q == nil || r2.Dot(edge[k].N, edge[i].N) < faintSteep {
			continue
		}
		if sum == nil {
			sum = make([][3]float64, len(q))
		}
		n++
		for d, v := range q {
			for h := range v {
				sum[d][h] += float64(v[h])
			}
		}
	}
	if n < faintWindow/2 {
		return nil
	}
	out := make([]colour, len(sum))
	for d, v := range sum {
		out[d] = hueOf(v[0]/float64(n), v[1]/float64(n), v[2]/float64(n)).pure()
	}
	return out
}

// faintDirection is the usual difference of the hue inside from that outside, over its square: the projection
// on it is 1 inside where it is 0 outside.
func faintDirection(hues [][]colour) (out [3]float64) {
	var diff [3][]float64
	for _, q := range hues {
		if q == nil {
			continue
		}
		var mean [2][3]float64
		var n [2]float64
		for d, c := range q {
			if side, far := sideOf(faintDistance(d, len(q)), faintGap); far {
				n[side]++
				for h, v := range c {
					mean[side][h] += float64(v)
				}
			}
		}
		for h := range diff {
			diff[h] = append(diff[h], mean[0][h]/n[0]-mean[1][h]/n[1])
		}
	}
	all := 1e-9
	for h := range diff {
		out[h] = quantile(diff[h], 0.5)
		all += out[h] * out[h]
	}
	for h := range out {
		out[h] /= all
	}
	return out
}

// locateFaint finds the blurred step in the hues across an edge: of all places the one with the least squares.
func locateFaint(hues []colour, direction [3]float64) (out faintStretch) {
	if hues == nil {
		return out
	}
	v := make([]float64, len(hues))
	for d, c := range hues {
		v[d] = float64(c[0])*direction[0] + float64(c[1])*direction[1] + float64(c[2])*direction[2]
	}
	best := math.Inf(1)
	rise := 0.0
	const pitch = 0.1
	reach := -faintDistance(0, len(v)) - 2*faintGap
	for at := -reach; at <= reach; at += pitch {
		if sse, up := stepThrough(v, at); up > 0 && sse < best {
			best, rise, out.off = sse, up, at
		}
	}
	noise := math.Sqrt(best / float64(len(v)-3))
	// Samples closer than the blur say the same: one in a blur's width counts.
	out.sigma = noise / math.Max(rise, 1e-9) * math.Sqrt(2*math.Pi) * faintBlur
	out.seen = rise > faintClear*noise && rise > 0.3 && rise < 3 && math.Abs(out.off) < reach-pitch
	return out
}

// stepThrough fits the levels of a step at a place, and returns the sum of squares and the rise inward.
func stepThrough(v []float64, at float64) (sse, rise float64) {
	var n, sp, spp, sv, spv, svv float64
	for d, y := range v {
		p := phi((at - faintDistance(d, len(v))) / faintBlur)
		n, sp, spp = n+1, sp+p, spp+p*p
		sv, spv, svv = sv+y, spv+p*y, svv+y*y
	}
	den := n*spp - sp*sp
	if den < 1e-9 {
		return math.Inf(1), 0
	}
	rise = (n*spv - sp*sv) / den
	level := (sv - rise*sp) / n
	return svv - level*sv - rise*spv, rise
}

// straighten moves the axis so that the two sides mirror.
func (w *faint) straighten(edge []faintPoint, seen []faintStretch) {
	var xs, ys []float64
	for _, s := range seen {
		q := &edge[s.at]
		if across := r2.Dot(q.N, w.f.N) * w.sign; s.seen && across > 1-faintSteep {
			x, _ := w.f.of(q.P)
			xs, ys = append(xs, x), append(ys, w.sign*s.off/across/2)
		}
	}
	a, m := robustLine(xs, ys)
	w.f = w.f.shifted(a, m, 0, w.f.L)
}

// lay moves the points of the mirrored edge to what was seen of it, and marks the others as hidden. It
// returns the share that was seen.
func (w *faint) lay(edge []faintPoint, seen []faintStretch) float64 {
	shown, all := 0, 0
	for k, s := range seen {
		course := w.course(seen, k)
		ok := s.seen && math.Abs(s.off-course) < faintMiss
		for i := s.at; i < min(len(edge), s.at+faintStep); i++ {
			q := &edge[i]
			if math.Abs(r2.Dot(q.N, w.f.N)) < 1-faintSteep {
				q.State = profile.Hidden // faces: the window along them is too short to show anything
				continue
			}
			all++
			if !ok {
				q.State = profile.Hidden
				continue
			}
			shown++
			q.P = r2.Add(q.P, r2.Scale(course, q.N))
			q.Sigma = math.Hypot(q.Sigma, math.Max(s.sigma, faintSigma))
		}
	}
	return float64(shown) / float64(max(all, 1))
}

// course is the usual place of the edges seen about stretch k.
func (w *faint) course(seen []faintStretch, k int) float64 {
	const reach = 6 // stretches to either side: shadows change slowly, and the course is but what perspective leaves
	var v []float64
	for i := max(0, k-reach); i <= min(len(seen)-1, k+reach); i++ {
		if seen[i].seen {
			v = append(v, seen[i].off)
		}
	}
	return quantile(v, 0.5)
}
