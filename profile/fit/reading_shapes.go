package fit

import (
	"math"

	"spindlestick/profile"
	"spindlestick/profile/lsq"
)

// candidate is one shape fitted between an element's stations.
type candidate struct {
	element  profile.Element
	cost     float64 // chi² and ln n for each of its numbers
	residual float64 // root mean square distance, mm
}

// readIterations settle a shape of a few numbers that starts near.
const readIterations = 8

// candidates fits every shape that the points between e's stations may have.
func candidates(e profile.Element, pts []point, sigma float64) []candidate {
	var out []candidate
	for _, s := range shapes(e, pts) {
		if len(s.start) >= len(pts) {
			continue
		}
		if c, ok := s.fit(pts, sigma); ok {
			out = append(out, c)
		}
	}
	// Where no shape fits as well as the noise says, none is certain: the best one sets the scale.
	worst := 1.0
	for i, c := range out {
		chi := c.residual * c.residual / (sigma * sigma)
		if i == 0 || chi < worst {
			worst = chi
		}
	}
	worst = math.Max(1, worst)
	ln := math.Log(float64(len(pts)))
	for i, s := range out {
		out[i].cost = s.cost/worst + ln*float64(unknowns(s.element))
	}
	return out
}

// trial is a shape with numbers that can be moved.
type trial struct {
	start []float64
	make  func(p []float64) profile.Element
}

// unknowns is how many numbers a shape has between given stations.
func unknowns(e profile.Element) int {
	switch e.Kind {
	case profile.Cylinder:
		return 1
	case profile.Taper:
		return 2
	case profile.Vee:
		return 4
	case profile.Ogee:
		return 5
	}
	return 3
}

// shapes returns what an element may be: level, straight, one arc, two arcs, two walls.
func shapes(e profile.Element, pts []point) []trial {
	n := len(pts)
	r0, r1 := pts[0].r, pts[n-1].r
	low, mid := pts[0], pts[n/2]
	for _, p := range pts {
		if p.r < low.r {
			low = p
		}
	}
	between := func(kind profile.Kind, d0, d1 float64) profile.Element {
		return profile.Element{Kind: kind, X0: e.X0, X1: e.X1, D0: d0, D1: d1}
	}
	inner := func(kind profile.Kind, p []float64) profile.Element {
		f := between(kind, 2*p[0], 2*p[1])
		f.InnerX, f.InnerD = p[2], 2*p[3]
		if kind == profile.Ogee {
			f.Sagitta = p[4]
		}
		return f
	}
	out := []trial{
		{[]float64{(r0 + r1) / 2}, func(p []float64) profile.Element { return between(profile.Cylinder, 2*p[0], 2*p[0]) }},
		{[]float64{r0, r1}, func(p []float64) profile.Element { return between(profile.Taper, 2*p[0], 2*p[1]) }},
		{[]float64{r0, r1, mid.r - (r0+r1)/2}, func(p []float64) profile.Element {
			f := between(profile.Bead, 2*p[0], 2*p[1])
			f.Sagitta = p[2]
			return f
		}},
		{[]float64{r0, r1, mid.x, mid.r, 0.1 * (r0 - r1)}, func(p []float64) profile.Element { return inner(profile.Ogee, p) }},
	}
	if low.r < math.Min(r0, r1) {
		out = append(out, trial{[]float64{r0, r1, low.x, low.r}, func(p []float64) profile.Element { return inner(profile.Vee, p) }})
	}
	return out
}

// fit moves the numbers of a trial until it lies closest to the points; false where it cannot be turned.
func (s trial) fit(pts []point, sigma float64) (candidate, bool) {
	measure := func(p, r []float64) {
		f := s.make(p)
		if f.Kind.Inner() && !(f.InnerX > f.X0 && f.InnerX < f.X1) {
			for i := range r {
				r[i] = outOfOrder
			}
			return
		}
		segs := f.Segments()
		a, b := newCurve(segs[0]), newCurve(segs[len(segs)-1])
		for i, q := range pts {
			d := a.distance(q.x, q.r)
			if e := b.distance(q.x, q.r); math.Abs(e) < math.Abs(d) {
				d = e
			}
			r[i] = d * math.Sqrt(q.weight) / sigma
		}
	}
	res, err := lsq.Solve(lsq.Problem{Start: s.start, Count: len(pts), Residuals: measure},
		lsq.Settings{Huber: huber, Iterations: readIterations, Tolerance: 1e-4})
	if err != nil {
		return candidate{}, false
	}
	f := s.make(res.P)
	if f.D0 <= 0 || f.D1 <= 0 || f.Kind.Inner() && f.InnerD <= 0 || res.Cost >= outOfOrder {
		return candidate{}, false
	}
	return candidate{element: f, cost: res.Cost, residual: sigma * math.Sqrt(res.Cost/float64(len(pts)))}, true
}

// sharpness is how fast a name gives way to the next about a limit of proportion: at 1.25 times the limit nine in ten
// would use it (common practice, no source).
const sharpness = 10

// beyond is the share that calls v beyond a limit so.
func beyond(v, limit float64) float64 {
	if v <= 0 {
		return 0
	}
	return 1 / (1 + math.Pow(limit/v, sharpness))
}

// names returns what a fitted shape is called, and by what share of turners.
func names(e profile.Element) map[profile.Kind]float64 {
	switch e.Kind {
	case profile.Cylinder:
		long := beyond(e.Length(), filletLimit(e.D0))
		return map[profile.Kind]float64{profile.Cylinder: long, profile.Fillet: 1 - long}
	case profile.Taper:
		limit := levelAngle
		if e.Length() < filletLimit(e.D0) {
			limit = shortLevel
		}
		sloped := beyond(math.Abs(e.D1-e.D0)/2/e.Length(), limit)
		long := beyond(e.Length(), filletLimit(e.D0))
		return map[profile.Kind]float64{profile.Taper: sloped, profile.Cylinder: (1 - sloped) * long, profile.Fillet: (1 - sloped) * (1 - long)}
	case profile.Bead:
		return arcNames(e)
	case profile.Vee:
		s := e.Segments()
		steep := beyond(math.Min(-chordAngle(s[0]), chordAngle(s[1])), veeWall)
		return map[profile.Kind]float64{profile.Vee: steep}
	}
	return ogeeNames(e)
}

// What is bowed by less than leastBow, mm of radius, or by less than bowShare of its length, is straight to the hand and to
// the eye, whatever the trace can tell (common practice, no source).
const (
	leastBow = 0.1
	bowShare = 0.002
)

// halfSpread is how far about halfShare whole and half arcs are told apart one way or the other.
const halfSpread = 0.05

// arcNames names one arc; a slight one is straight to some.
func arcNames(e profile.Element) map[profile.Kind]float64 {
	bowed := beyond(math.Abs(e.Sagitta), math.Max(leastBow, bowShare*e.Length()))
	out := map[profile.Kind]float64{}
	if bowed > 0 { // a line that was fitted as an arc has no crest to go by
		for k, share := range bowNames(e) {
			out[k] += bowed * share
		}
	}
	e.Kind = profile.Taper
	for k, share := range names(e) {
		out[k] += (1 - bowed) * share
	}
	return out
}

// bowNames names an arc that shows.
func bowNames(e profile.Element) map[profile.Kind]float64 {
	s := e.Segments()[0]
	a, b := startAngle(s), -endAngle(s)
	if s.Sagitta < 0 {
		a, b = -a, -b
	}
	ratio := math.Min(a, b) / math.Max(math.Abs(a), math.Abs(b))
	whole := 1 / (1 + math.Exp((halfShare-ratio)/halfSpread))
	if s.Sagitta < 0 {
		return map[profile.Kind]float64{profile.Cove: whole, profile.HalfCove: 1 - whole}
	}
	swell := beyond(e.Length(), swellShare*math.Max(e.D0, e.D1)) * beyond(swellHeight*s.Chord(), s.Sagitta)
	return map[profile.Kind]float64{profile.Swell: swell, profile.Bead: (1 - swell) * whole, profile.HalfBead: (1 - swell) * (1 - whole)}
}

// ogeeNames passes over two arcs that are not an ogee's.
func ogeeNames(e profile.Element) map[profile.Kind]float64 {
	s := e.Segments()
	if s[0].Sagitta*s[1].Sagitta >= 0 || (s[0].R1-s[0].R0)*(s[1].R1-s[1].R0) < 0 {
		return nil
	}
	return map[profile.Kind]float64{profile.Ogee: 1}
}
