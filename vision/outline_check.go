package vision

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// What an outline must satisfy to be handed on.
const (
	mostWeak      = 0.2  // of the contour without a measurable edge
	mostDamaged   = 0.15 // of the sides: more is not damage but a wrong edge
	mostAsymmetry = 0.06 // of the largest half-width, and no less than asymmetryFloor
	asymmetryPx   = 1.5  // px
	mostBlur      = 3.5  // px, of the edge's usual blur: beyond it beads and coves run into each other
	shadowBlur    = 1.8  // px, the same where one side lies in shadow and hardly shows
	mostOverhang  = 0.2  // of the largest half-width, and no less than overhangPx, that the ends may be hollow
	overhangPx    = 5.0
	leastEnd      = 0.5 // of the contour about each end must have a measurable edge
)

// assemble builds the outline from the fitted contour and checks it. shadow is that of the silhouette.
func (d *finder) assemble(fits []edgeFit, f frame, shadow int) (view.Outline, error) {
	var o view.Outline
	pts, good := points(fits, d.c)
	seen := 1.0
	if shadow == 0 {
		f = finalAxis(pts, good, f)
	}
	q := edgeQuality(fits, pts, good, f, shadow)
	ends := d.endSupport(fits, pts, good, f, shadow)
	if shadow > 0 {
		pts, f, seen = faintSide(d.r, d.c, pts, good, shadow-1, f, d.cam)
		good = slices.Repeat([]bool{true}, len(pts))
		if len(pts) < 2*leastSide {
			return o, errFewPoints()
		}
		f = f.spanning(pts)
	}
	o.Axis[0], o.Axis[1] = f.O, f.at(f.L, 0)
	o.Sides, o.Ends = split(pts, good, f)
	if len(o.Sides[0]) < leastSide || len(o.Sides[1]) < leastSide {
		return o, errFewPoints()
	}
	limit := float64(mostBlur)
	if shadow > 0 {
		limit = shadowBlur
	}
	if blur := medianOf(len(fits), func(i int) float64 { return fits[i].blur() }); blur > limit {
		return o, fmt.Errorf("%w: the photo is blurred over %.0f pixels; hold the camera still and focus on the piece", ErrUnsure, 2*blur)
	}
	m := compareSides(o.Sides, newLevel(f, d.cam))
	if over := overhang(o.Sides, f); over > math.Max(overhangPx, mostOverhang*m.half) {
		return o, fmt.Errorf("%w: what was found reaches %.0f px further beside its axis than on it, as no turning does; give its two ends with --axis, or move away what touches it", ErrUnsure, over)
	}
	m.markDamage(&o)
	front := markFront(&o, m.l)
	q.Asymmetry = m.spread
	o.Quality = q
	if seen < faintSeen {
		return o, fmt.Errorf("%w: one side of it lies in its own shadow and cannot be made out; use softer light, or light from both sides", ErrUnsure)
	}
	if shadow > 0 {
		o.Quality.Warnings = append(o.Quality.Warnings, fmt.Sprintf("One side of the piece lies in its own shadow: %.0f %% of that edge was seen, by its hue, the rest is left out. Check that both edges follow the piece.", 100*seen))
	}
	if slices.Min(ends[:]) < leastEnd {
		return o, fmt.Errorf("%w: an end of what was found has no edge of its own, the piece may go on; give its two ends with --axis, or use a ground of another colour", ErrUnsure)
	}
	if front > mostFront {
		return o, fmt.Errorf("%w: over %.0f %% of its length something stands in front of it, or what was found is not its edge; clear it, or give its two ends with --axis", ErrUnsure, 100*front)
	}
	if front > 0 {
		o.Quality.Warnings = append(o.Quality.Warnings, frontWarning(front))
	}
	return o, judge(&o, m.half)
}

// leastSide is the fewest points of a side that can be measured.
const leastSide = 30

func errFewPoints() error {
	return fmt.Errorf("%w: hardly any of its edge is sharp enough to measure; give its two ends with --axis, or use a plainer ground", ErrUnsure)
}

// finalAxis lays the frame on the middle line of the measured contour, from where it enters the
// piece to where it leaves it.
func finalAxis(pts []view.EdgePoint, good []bool, f frame) frame {
	for range 2 {
		var sides [2][]view.EdgePoint
		for i, p := range pts {
			if _, y := f.of(p.P); good[i] && y > 0 {
				sides[0] = append(sides[0], p)
			} else if good[i] {
				sides[1] = append(sides[1], p)
			}
		}
		a, b := heights(sides[0], f.of, 1), heights(sides[1], f.of, -1)
		var xs, ys []float64
		for i, h := range a.top {
			x := a.from + i
			if g, ok := b.at(x); ok && !math.IsNaN(h) {
				xs = append(xs, float64(x))
				ys = append(ys, (h-g)/2)
			}
		}
		c, m := robustLine(xs, ys)
		f = f.shifted(c, m, 0, f.L).spanning(pts)
	}
	return f
}

// spanning is the frame from where its line enters the contour to where it leaves it.
func (f frame) spanning(pts []view.EdgePoint) frame {
	first, last := extremes(pts, f)
	x0, _ := f.of(pts[first].P)
	x1, _ := f.of(pts[last].P)
	return f.shifted(0, 0, x0, x1)
}

// heightMap holds by whole station (px) how far one side reaches from the axis: its highest and lowest point there.
type heightMap struct {
	from     int       // the station of the first
	top, low []float64 // NaN where nothing is known
}

// bridge is the widest gap (px) between neighbours on the contour that a straight line closes: the points
// stand a few pixels apart, in large and blurred pictures as many as twice what is usual there.
const bridge = 5.0

// bridged is the widest gap closed on one side.
func bridged(side []view.EdgePoint) float64 {
	usual := medianOf(max(len(side)-1, 0), func(i int) float64 { return r2.Norm(r2.Sub(side[i+1].P, side[i].P)) })
	return math.Max(bridge, 2*usual)
}

// heights maps one side by the station and offset that place gives its points, in contour order; sign is +1 for the left one.
func heights(side []view.EdgePoint, place func(r2.Vec) (x, y float64), sign float64) heightMap {
	at := make([]r2.Vec, len(side))
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, p := range side {
		x, y := place(p.P)
		at[i] = r2.Vec{X: x, Y: sign * y}
		lo, hi = min(lo, x), max(hi, x)
	}
	h := newHeightMap(lo, hi)
	most := bridged(side)
	var x0, y0 float64
	for i, p := range at {
		x, y := p.X, p.Y
		h.add(int(math.Round(x)), y)
		if d := x - x0; i > 0 && math.Abs(d) < most && math.Abs(y-y0) < most {
			lo, hi := math.Min(x, x0), math.Max(x, x0)
			for k := int(math.Ceil(lo)); float64(k) <= hi; k++ {
				if d != 0 {
					h.add(k, y0+(float64(k)-x0)/d*(y-y0))
				}
			}
		}
		x0, y0 = x, y
	}
	return h
}

// newHeightMap makes room for the stations from lo to hi; none if lo is beyond hi.
func newHeightMap(lo, hi float64) heightMap {
	if !(lo <= hi) {
		return heightMap{}
	}
	from := int(math.Round(lo))
	n := int(math.Round(hi)) - from + 1
	h := heightMap{from, make([]float64, n), make([]float64, n)}
	for i := range h.top {
		h.top[i], h.low[i] = math.NaN(), math.NaN()
	}
	return h
}

func (h *heightMap) add(k int, v float64) {
	i := k - h.from
	if !(v <= h.top[i]) {
		h.top[i] = v
	}
	if !(v >= h.low[i]) {
		h.low[i] = v
	}
}

// at is the highest point at station k.
func (h *heightMap) at(k int) (top float64, ok bool) {
	if k < h.from || k >= h.from+len(h.top) || math.IsNaN(h.top[k-h.from]) {
		return 0, false
	}
	return h.top[k-h.from], true
}

// mirrorTest compares the two sides station by station.
type mirrorTest struct {
	l      level
	n      int
	h      []float64    // by station: mean half-width, px
	diff   []float64    // by station: left half-width beyond the right one, px, its slow trend taken off; NaN unknown
	slack  [][2]float64 // by station: how much less or more the right side reaches nearby
	spread float64      // robust standard deviation of diff
	half   float64      // largest half-width
}

// mirrorSlack is how far along the axis (px) the two sides may be shifted against each other: at a
// step the perspective and a slightly turned axis shift them a little.
const mirrorSlack = 4

// compareSides measures how well the two sides mirror.
func compareSides(sides [2][]view.EdgePoint, l level) mirrorTest {
	a, b := heights(sides[0], l.of, 1), heights(sides[1], l.of, -1)
	m := mirrorTest{l: l, n: int(l.length) + 1}
	m.diff = make([]float64, m.n)
	m.slack = make([][2]float64, m.n)
	m.h = make([]float64, m.n)
	for x := range m.diff {
		m.diff[x] = math.NaN()
		h, ok := a.at(x)
		lo, hi, known := b.within(x)
		if !ok || !known {
			continue
		}
		m.half = math.Max(m.half, math.Max(h, hi))
		centre, in := b.at(x)
		if !in {
			centre = hi
		}
		m.h[x] = (h + centre) / 2
		m.diff[x] = h - centre
		m.slack[x] = [2]float64{centre - lo, hi - centre}
	}
	m.detrend()
	return m
}

// within is the lowest and highest reach within the slack about station x.
func (h *heightMap) within(x int) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for k := x - mirrorSlack; k <= x+mirrorSlack; k++ {
		if v, in := h.at(k); in {
			hi, ok = math.Max(hi, v), true
			lo = math.Min(lo, h.low[k-h.from])
		}
	}
	return lo, hi, ok
}

// detrend takes off the differences what a camera to one side of the piece, a bent piece or a
// distorting lens makes of two sides that mirror: terms in the station x and in the half-width h,
// fitted robustly, then a running median over a quarter of the length.
func (m *mirrorTest) detrend() {
	m.takeOff()
	reach := m.n/8 + 1
	trend := make([]float64, m.n)
	pitch := max(10, m.n/100) // stations: far less than the window
	for x := 0; x < m.n; x += pitch {
		var v []float64
		for k := max(0, x-reach); k < min(m.n, x+reach); k += 2 { // every other one is enough for a median
			if !math.IsNaN(m.diff[k]) {
				v = append(v, m.diff[k])
			}
		}
		t := quantile(v, 0.5)
		for k := x; k < min(m.n, x+pitch); k++ {
			trend[k] = t
		}
	}
	for x := range m.diff {
		m.diff[x] -= trend[x]
	}
	m.spread = 1.48 * m.middle()
}

// middle is the median size of the known differences.
func (m *mirrorTest) middle() float64 {
	var mag []float64
	for _, d := range m.diff {
		if !math.IsNaN(d) {
			mag = append(mag, math.Abs(d))
		}
	}
	return quantile(mag, 0.5)
}

// takeOff fits the terms 1, x, h², x h² by reweighted least squares and subtracts them.
func (m *mirrorTest) takeOff() {
	for range 5 {
		scale := 4.7 * math.Max(1.48*m.middle(), 0.05)
		a, rhs := mat.NewSymDense(4, nil), mat.NewVecDense(4, nil)
		for x, d := range m.diff {
			if t := d / scale; math.Abs(t) < 1 {
				w := (1 - t*t) * (1 - t*t)
				b := m.terms(x)
				for i := range b {
					rhs.SetVec(i, rhs.AtVec(i)+w*b[i]*d)
					for j := i; j < len(b); j++ {
						a.SetSym(i, j, a.At(i, j)+w*b[i]*b[j])
					}
				}
			}
		}
		for i := range 4 { // a plain cylinder leaves h² a constant
			a.SetSym(i, i, a.At(i, i)+1e-3)
		}
		var c mat.VecDense
		if err := c.SolveVec(a, rhs); err != nil {
			return
		}
		for x := range m.diff {
			b := m.terms(x)
			for i := range b {
				m.diff[x] -= c.AtVec(i) * b[i]
			}
		}
	}
}

// terms are the values of the four terms at station x, scaled to about one.
func (m *mirrorTest) terms(x int) [4]float64 {
	u, v := 2*float64(x)/float64(m.n)-1, m.h[x]*m.h[x]/(m.half*m.half)
	return [4]float64{1, u, v, u * v}
}

// edgeQuality sums up how clear the edge is, but for a side in shadow (1 left, 2 right).
func edgeQuality(fits []edgeFit, pts []view.EdgePoint, good []bool, f frame, shadow int) (q view.Quality) {
	var weak, clear, all float64
	for i := range fits {
		p := &fits[i]
		if _, y := f.of(pts[i].P); shadow == 1 && y > 0 || shadow == 2 && y < 0 {
			continue
		}
		all += p.share
		if !good[i] || p.rise() < 3*p.Noise {
			weak += p.share
			continue
		}
		clear += p.share * p.rise() / p.Noise
	}
	q.WeakFraction = weak / all
	if weak < all {
		q.Support = clear / (all - weak)
	}
	return q
}

// judge refuses an outline that cannot be right.
func judge(o *view.Outline, half float64) error {
	q := o.Quality
	damaged, all := 0, len(o.Sides[0])+len(o.Sides[1])
	for _, side := range o.Sides {
		for _, p := range side {
			if p.State == profile.Damaged {
				damaged++
			}
		}
	}
	if share := float64(damaged) / float64(all); share > mostDamaged {
		return fmt.Errorf("%w: over %.0f %% of its length the two edges found do not mirror each other; give its two ends with --axis, or photograph it on a plainer ground", ErrUnsure, 100*share)
	}
	if q.WeakFraction > mostWeak {
		return fmt.Errorf("%w: %.0f %% of its edge has no measurable contrast; use a ground of another colour, or softer light", ErrUnsure, 100*q.WeakFraction)
	}
	if limit := math.Max(asymmetryPx, mostAsymmetry*half); q.Asymmetry > limit {
		return fmt.Errorf("%w: the two edges found do not mirror each other, by %.1f px; give its two ends with --axis", ErrUnsure, q.Asymmetry)
	}
	return nil
}
