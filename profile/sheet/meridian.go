package sheet

import (
	"math"
	"slices"

	"spindlestick/profile"
)

// piece is a primitive of the outline as seen from the side: a segment of the meridian, or an upright line where the
// diameter steps (X0 = X1).
type piece struct {
	profile.Segment
	element int
}

// half is the outline's distance from the axis at station x of an element: a shoulder shows no more than half its
// square, face on.
func half(e profile.Element, x float64) float64 {
	r := radius(e, x)
	if s := side(e); e.Kind == profile.Shoulder && s > 0 {
		return math.Min(r, s/2)
	}
	return r
}

// radius is the element's radius at station x, held to what its arcs can reach: an arc that leans back over its own
// end, which no edit makes but a file may hold, has no single radius there.
func radius(e profile.Element, x float64) float64 {
	r := e.At(x) / 2
	if math.IsNaN(r) {
		return math.Max(e.D0, e.D1) / 2
	}
	return math.Max(0, math.Min(r, math.Max(math.Max(e.D0, e.D1), e.InnerD)/2+math.Abs(e.Sagitta)+e.Length()))
}

// reach is the outline's largest distance from the axis, mm.
func reach(p profile.Pattern) float64 {
	out := 0.0
	for _, e := range p.Elements {
		out = math.Max(out, math.Max(half(e, e.X0), half(e, e.X1)))
		if x, _, ok := e.Mid(); ok {
			out = math.Max(out, half(e, x))
		}
		for _, s := range e.Segments() { // an ogee rises over its own ends and inflection
			if x, _, ok := s.Extreme(); ok {
				out = math.Max(out, half(e, x))
			}
		}
	}
	return out
}

// unleaning returns a segment that runs along the axis: an arc that leans back over its own end gives way to its chord.
func unleaning(s profile.Segment) profile.Segment {
	_, cr, curved := s.Centre()
	if curved && ((s.R0-cr)*s.Sagitta < 0 || (s.R1-cr)*s.Sagitta < 0) {
		s.Sagitta = 0
	}
	return s
}

// outline returns the pieces of a pattern's outline from the hook end's axis to the far end's.
func outline(p profile.Pattern) []piece {
	var out []piece
	reached := 0.0
	for i, e := range p.Elements {
		start := half(e, e.X0)
		out = append(out, piece{profile.Segment{X0: e.X0, R0: reached, X1: e.X0, R1: start}, i})
		for _, s := range e.Segments() {
			out = append(out, faced(unleaning(s), e, i)...)
		}
		reached = half(e, e.X1)
	}
	last := len(p.Elements) - 1
	end := p.Elements[last].X1
	return append(out, piece{profile.Segment{X0: end, R0: reached, X1: end}, last})
}

// faced returns a segment of an element, cut down to the square's flat where it belongs to a shoulder.
func faced(s profile.Segment, e profile.Element, i int) []piece {
	flat := side(e) / 2
	if e.Kind != profile.Shoulder || flat == 0 || math.Max(s.R0, s.R1) <= flat {
		return []piece{{s, i}}
	}
	level := func(x0, x1 float64) piece { return piece{profile.Segment{X0: x0, R0: flat, X1: x1, R1: flat}, i} }
	if math.Min(s.R0, s.R1) >= flat {
		return []piece{level(s.X0, s.X1)}
	}
	x := crossing(s, flat)
	if s.R0 > s.R1 {
		return []piece{level(s.X0, x), {within(s, x, s.X1), i}}
	}
	return []piece{{within(s, s.X0, x), i}, level(x, s.X1)}
}

// crossing returns where the segment, whose ends lie on either side of r, passes it.
func crossing(s profile.Segment, r float64) float64 {
	lo, hi := s.X0, s.X1
	for range 60 {
		mid := (lo + hi) / 2
		if (s.At(mid) > r) == (s.R0 > r) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// within returns the part of a segment between two stations: the same circle over a shorter chord.
func within(s profile.Segment, lo, hi float64) profile.Segment {
	if lo <= s.X0 && hi >= s.X1 {
		return s
	}
	lo, hi = math.Max(lo, s.X0), math.Min(hi, s.X1)
	f := profile.Segment{X0: lo, R0: s.At(lo), X1: hi, R1: s.At(hi)}
	if !s.Straight() {
		r, h := s.Radius(), f.Chord()/2
		f.Sagitta = math.Copysign(r-math.Sqrt(math.Max(0, r*r-h*h)), s.Sagitta)
	}
	return f
}

// clipped returns the pieces between two stations.
func clipped(pieces []piece, lo, hi float64) []piece {
	var out []piece
	for _, q := range pieces {
		switch {
		case q.X1 < lo || q.X0 > hi:
		case q.X0 == q.X1:
			out = append(out, q)
		case q.X1 > lo && q.X0 < hi:
			out = append(out, piece{within(q.Segment, lo, hi), q.element})
		}
	}
	return out
}

// frame places a piece on a page: station 0 and the axis at Origin, radii drawn Scale times as large, upwards, or
// downwards when Down.
type frame struct {
	Origin Point
	Scale  float64
	Down   bool
}

func (f frame) at(x, r float64) Point {
	if f.Down {
		r = -r
	}
	return Point{f.Origin.X + x, f.Origin.Y - f.Scale*r}
}

// stroke draws pieces of an outline; arcs stay arcs where the radii are not scaled.
func (f frame) stroke(s Surface, pieces []piece, pen Pen) {
	var run []Point
	flush := func() {
		if len(run) > 1 {
			s.Stroke(run, false, pen)
		}
		run = nil
	}
	for _, q := range pieces {
		if f.Scale == 1 && !q.Straight() && q.X1 > q.X0 {
			flush()
			s.Arc(f.bow(q.Segment), pen)
			continue
		}
		run = joined(run, f.points(q.Segment))
	}
	flush()
}

// joined appends points to a run that ends where they start.
func joined(run, pts []Point) []Point {
	if len(run) > 0 && math.Hypot(run[len(run)-1].X-pts[0].X, run[len(run)-1].Y-pts[0].Y) < 1e-9 {
		pts = pts[1:]
	}
	return append(run, pts...)
}

// bow returns a curved segment as an arc on the page.
func (f frame) bow(s profile.Segment) Bow {
	cx, cr, _ := s.Centre()
	angle := func(x, r float64) float64 {
		a := math.Atan2(r-cr, x-cx)
		if s.Sagitta < 0 && a > 0 {
			a -= 2 * math.Pi // a hollow's arc lies below its centre
		}
		return a
	}
	from, to := angle(s.X1, s.R1), angle(s.X0, s.R0)
	if f.Down {
		from, to = -from, -to
	}
	return Bow{Centre: f.at(cx, cr), R: s.Radius(), From: math.Min(from, to), To: math.Max(from, to)}
}

// points returns a segment as a polyline on the page.
func (f frame) points(s profile.Segment) []Point {
	if s.Straight() || s.X1 == s.X0 {
		return []Point{f.at(s.X0, s.R0), f.at(s.X1, s.R1)}
	}
	pts := frame{Scale: 1}.bow(s).flatten()
	if pts[0].X > pts[len(pts)-1].X {
		slices.Reverse(pts)
	}
	for i, q := range pts {
		pts[i] = f.at(q.X, -q.Y)
	}
	return pts
}

// area returns the polygon between the axis and pieces that run from station lo to hi.
func (f frame) area(pieces []piece) []Point {
	var run []Point
	for _, q := range pieces {
		run = joined(run, f.points(q.Segment))
	}
	if len(run) == 0 {
		return nil
	}
	first, last := run[0], run[len(run)-1]
	return append(append([]Point{{first.X, f.Origin.Y}}, run...), Point{last.X, f.Origin.Y})
}
