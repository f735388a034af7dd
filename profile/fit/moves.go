package fit

import (
	"math"

	"spindlestick/profile"
)

// move replaces links a to b.
type move struct {
	a, b int
	graft
}

// ends returns the move's graft with the outer ends of links a to b.
func (f *fitted) ends(a, b int) graft {
	p, q := f.joints[a], f.joints[b+1]
	return graft{start: p.after, end: q.before, x0: p.x, x1: q.x}
}

// one returns a graft of one link.
func (g graft) one(l link, level bool) graft {
	g.links, g.level = []link{l}, []bool{level}
	return g
}

// two returns a graft of two links that meet in j.
func (g graft) two(l, m link, j joint, levelL, levelM bool) graft {
	g.links, g.joints, g.level = []link{l, m}, []joint{j}, []bool{levelL, levelM}
	return g
}

// merges are lines and arcs in the place of links a to b.
func (f *fitted) merges(a, b int) []move {
	if !f.movable(a, b) {
		return nil
	}
	g := f.ends(a, b)
	out := []move{{a, b, g.one(link{}, false)}}
	if math.Abs(g.end-g.start) < 2*leastStep {
		flat := g
		flat.start = (g.start + g.end) / 2
		flat.end = flat.start
		out = append(out, move{a, b, flat.one(link{}, true)})
	}
	s := profile.Segment{X0: g.x0, R0: g.start, X1: g.x1, R1: g.end}
	x := (g.x0 + g.x1) / 2
	h := (f.radius(x) - s.At(x)) * (g.x1 - g.x0) / s.Chord()
	if math.Abs(h) > leastStep/2 {
		out = append(out, move{a, b, g.one(link{form: free, sagitta: math.Max(-s.Chord()/2, math.Min(s.Chord()/2, h)), convex: h > 0}, false)})
	}
	return out
}

// radius is the chain's radius at station x.
func (f *fitted) radius(x float64) float64 {
	for k := range f.links {
		if x <= f.joints[k+1].x {
			return f.segment(k).At(x)
		}
	}
	return f.joints[len(f.links)].before
}

// square90 is the slope of the walls of a vee as it is cut by default: 90 degrees included (Milton and Wohlers, A Course in
// Wood Turning, 1919, exercise A-I-4).
const square90 = 1.0

// vees are two walls in the place of links a to b, from rim to rim. Beside a shoulder stands a fillet, to which the pommel
// is brought down (common practice, no source), so what is hidden there is none.
func (p *picture) vees(f *fitted, a, b int) []move {
	if a == 0 || b == len(f.links)-1 || !f.movable(a, b) || f.besideShoulder(a, b) {
		return nil
	}
	g := f.ends(a, b)
	g.start, g.end = f.joints[a].before, f.joints[b+1].after
	width, rim := g.x1-g.x0, math.Min(g.start, g.end)
	if width > veeWidth*rim || width < leastShape || math.Abs(g.start-g.end) > width/2 {
		return nil
	}
	for k := a; k <= b; k++ {
		if s := f.segment(k); s.At((s.X0+s.X1)/2) > rim-leastStep {
			return nil
		}
	}
	low, _ := p.hull(g.x0, g.x1)
	j := joint{x: (g.x0 + g.x1) / 2}
	j.before = math.Max(leastRadius, math.Min(low-leastStep, rim-square90*width/2))
	j.after, j.lo, j.hi = j.before, j.x, j.x
	return []move{{a, b, g.two(link{}, link{}, j, false, false)}}
}

// besideShoulder reports whether the link before a or after b is a shoulder.
func (f *fitted) besideShoulder(a, b int) bool {
	_, before := f.ties.shoulder(a - 1)
	_, after := f.ties.shoulder(b + 1)
	return before || after
}

// fillets are level runs in the place of link k.
func (p *picture) fillets(f *fitted, k int) []move {
	s := f.segment(k)
	if k == 0 || k == len(f.links)-1 || !f.movable(k, k) || f.ties.level[k] || s.X1-s.X0 > 1.5*filletLimit(s.R0+s.R1) {
		return nil
	}
	low, hidden := p.hull(s.X0, s.X1)
	r := math.Min(s.R0, s.R1)
	if hidden {
		r = math.Min(r, low)
	}
	g := f.ends(k, k)
	g.start, g.end = r, r
	out := []move{{k, k, g.one(link{}, true)}}
	return append(out, f.stretched(k)...)
}

// stretched are level runs in the place of the greater part of link k, the rest of which its neighbour takes.
func (f *fitted) stretched(k int) (out []move) {
	s := f.segment(k)
	const share = 0.75
	l := share * (s.X1 - s.X0)
	run := func(mid float64) float64 { return s.At(mid) }
	if f.movable(k, k+1) && !f.ties.level[k+1] {
		x, r := s.X0+l, run(s.X0+l/2)
		next := f.segment(k + 1)
		g := f.ends(k, k+1)
		g.start = r
		g.links, g.level = []link{{}, f.links[k+1]}, []bool{true, false}
		g.joints = []joint{{x: x, before: r, after: next.R0 + (x-next.X0)*(next.R1-next.R0)/(next.X1-next.X0)}}
		out = append(out, move{k, k + 1, g})
	}
	if f.movable(k-1, k) && !f.ties.level[k-1] {
		x, r := s.X1-l, run(s.X1-l/2)
		prev := f.segment(k - 1)
		g := f.ends(k-1, k)
		g.end = r
		g.links, g.level = []link{f.links[k-1], {}}, []bool{false, true}
		g.joints = []joint{{x: x, before: prev.R0 + (x-prev.X0)*(prev.R1-prev.R0)/(prev.X1-prev.X0), after: r}}
		out = append(out, move{k - 1, k, g})
	}
	return out
}

// filletGuess is the usual length of a fillet as a share of its longest, from which a search for one starts.
const filletGuess = 0.6

// splits part arc k into a fillet and the arc that is left, at either end.
func (f *fitted) splits(k int) []move {
	s := f.segment(k)
	if _, is := f.ties.shoulder(k); is || f.links[k].form == straight || f.links[k].form == quarter {
		return nil
	}
	l := math.Min(filletGuess*filletLimit(s.R0+s.R1), 0.4*(s.X1-s.X0))
	if l < leastShape/2 {
		return nil
	}
	var out []move
	for _, at := range []float64{s.X0 + l, s.X1 - l} {
		first := at < (s.X0+s.X1)/2
		if first && !f.loose(k) || !first && !f.loose(k+1) {
			continue
		}
		g := f.ends(k, k)
		run := joint{x: at, before: s.At(at), after: s.At(at), lo: at, hi: at}
		level := (s.At(at) + s.R0) / 2
		if !first {
			level = (s.At(at) + s.R1) / 2
		}
		rest := profile.Segment{X0: at, R0: run.after, X1: s.X1, R1: s.R1}
		if !first {
			rest = profile.Segment{X0: s.X0, R0: s.R0, X1: at, R1: run.before}
		}
		mid := (rest.X0 + rest.X1) / 2
		h := (s.At(mid) - rest.At(mid)) * (rest.X1 - rest.X0) / rest.Chord()
		bow := link{form: free, sagitta: h, convex: s.Sagitta > 0}
		tied := bow
		tied.form = crestAt1
		if f.links[k].bound() {
			bow, tied = link{form: follows, convex: f.links[k].convex}, link{form: follows, convex: f.links[k].convex}
		}
		open, closed := run, run
		if first {
			g.start = level
			open.before, closed.before, closed.after = level, level, level
			tied.form = crestAt0
			out = append(out, move{k, k, g.two(link{}, bow, open, true, false)})
			if fits(rest.X1-rest.X0, level-rest.R1) {
				out = append(out, move{k, k, g.two(link{}, tied, closed, true, false)})
			}
			continue
		}
		g.end = level
		open.after, closed.before, closed.after = level, level, level
		out = append(out, move{k, k, g.two(bow, link{}, open, false, true)})
		if fits(rest.X1-rest.X0, level-rest.R0) {
			out = append(out, move{k, k, g.two(tied, link{}, closed, false, true)})
		}
	}
	return out
}

// fits reports whether an arc that is level at one end can rise so far over its length.
func fits(length, rise float64) bool { return math.Abs(rise) < length }

// inserts put a fillet between links k-1 and k, where something is out of sight.
func (p *picture) inserts(f *fitted, k int) []move {
	if k == 0 || k >= len(f.links) || !f.loose(k) || f.ties.square[k-1] || f.ties.square[k] {
		return nil
	}
	j, a, b := f.joints[k], f.segment(k-1), f.segment(k)
	l := filletGuess * filletLimit(j.before+j.after)
	if a.X1-a.X0 < l || b.X1-b.X0 < l {
		return nil
	}
	var out []move
	for _, at := range []float64{j.x - l/2, j.x + l/2} {
		x0, x1 := at-l/2, at+l/2
		low, _ := p.hull(x0, x1)
		for _, r := range []float64{math.Min(low, math.Min(j.before, j.after)), math.Max(j.before, j.after)} {
			if math.IsInf(r, 0) || r > low && math.Abs(j.before-j.after) < 4*leastStep {
				continue
			}
			p, q := f.shortened(k-1, a.X0, x0), f.shortened(k, x1, b.X1)
			g := f.ends(k-1, k)
			g.links, g.level = []link{p.link, {}, q.link}, []bool{f.ties.level[k-1], true, f.ties.level[k]}
			g.joints = []joint{{x: x0, before: p.r1, after: r, lo: x0, hi: x0}, {x: x1, before: r, after: q.r0, lo: x1, hi: x1}}
			out = append(out, move{k - 1, k, g})
		}
	}
	return out
}

// shorter is what is left of a link between two stations.
type shorter struct {
	link
	r0, r1 float64
}

// shortened returns link k between stations x0 and x1, on the course it has.
func (f *fitted) shortened(k int, x0, x1 float64) shorter {
	s := f.segment(k)
	out := shorter{link{}, s.At(x0), s.At(x1)}
	_, isShoulder := f.ties.shoulder(k)
	switch {
	case isShoulder:
		out.link = f.links[k]
		return out
	case f.links[k].bound():
		out.link = link{form: follows, convex: f.links[k].convex}
		return out
	}
	if s.Straight() {
		return out
	}
	rest := profile.Segment{X0: x0, R0: out.r0, X1: x1, R1: out.r1}
	mid := (x0 + x1) / 2
	out.form, out.convex = free, s.Sagitta > 0
	out.sagitta = (s.At(mid) - rest.At(mid)) * (x1 - x0) / rest.Chord()
	return out
}

// rounds end the piece in a half bead instead of in link k, its first or last.
func (f *fitted) rounds(k int) []move {
	last := len(f.links) - 1
	s := f.segment(k)
	if k != 0 && k != last || !f.movable(k, k) {
		return nil
	}
	r := s.R0
	if k == last {
		r = s.R1
	}
	l := math.Min(r, (s.X1-s.X0)/2)
	if l < leastShape {
		return nil
	}
	g := f.ends(k, k)
	if k == last {
		at := s.X1 - l
		rest := f.shortened(k, s.X0, at)
		g.end = math.Max(leastRadius, rest.r1-l*0.9)
		arc := link{form: crestAt0, convex: true}
		return []move{{k, k, g.two(rest.link, arc, joint{x: at, before: rest.r1, after: rest.r1, lo: at, hi: at}, false, false)}}
	}
	at := s.X0 + l
	rest := f.shortened(k, at, s.X1)
	g.start = math.Max(leastRadius, rest.r0-l*0.9)
	arc := link{form: crestAt1, convex: true}
	return []move{{k, k, g.two(arc, rest.link, joint{x: at, before: rest.r0, after: rest.r0, lo: at, hi: at}, false, false)}}
}

// closes joins links k-1 and k without a step.
func (f *fitted) closes(k int) []move {
	if k < 1 || k >= len(f.links) || !f.joints[k].step() || !f.movable(k-1, k) || f.ties.level[k-1] && f.ties.level[k] {
		return nil
	}
	g := f.ends(k-1, k)
	j := f.joints[k]
	j.before = (j.before + j.after) / 2
	j.after = j.before
	g.links, g.joints, g.level = []link{f.links[k-1], f.links[k]}, []joint{j}, []bool{f.ties.level[k-1], f.ties.level[k]}
	for i, l := range g.level {
		switch {
		case l && i == 0:
			g.start = j.before
		case l:
			g.end = j.before
		}
	}
	return []move{{k - 1, k, g}}
}

// sweeping are ogees k and k+1 that leave level where they start, and that end level as well.
func (f *fitted) sweeping(k int) (out []move) {
	if k+1 >= len(f.links) || f.links[k+1].form != follows || f.links[k].form == straight || !f.movable(k, k+1) {
		return nil
	}
	_, a := f.ties.shoulder(k)
	_, b := f.ties.shoulder(k + 1)
	if a || b {
		return nil
	}
	for _, second := range []form{follows, sweeps} {
		g := f.ends(k, k+1)
		convex := f.segment(k).Sagitta > 0
		g.links = []link{{form: crestAt0, convex: convex}, {form: second, convex: !convex}}
		g.joints, g.level = []joint{f.joints[k+1]}, []bool{false, false}
		if fits(f.span(k), f.joints[k+1].before-g.start) {
			out = append(out, move{k, k + 1, g})
		}
	}
	return out
}

// opens part links k-1 and k, one an arc, by a step either way.
func (f *fitted) opens(k int) (out []move) {
	if k < 1 || k >= len(f.links) || f.joints[k].step() || !f.movable(k-1, k) || f.links[k-1].form == straight && f.links[k].form == straight {
		return nil
	}
	for _, d := range []float64{-2 * leastStep, 2 * leastStep} {
		g := f.ends(k-1, k)
		j := f.joints[k]
		switch {
		case f.ties.level[k]:
			j.before += d
		default:
			j.after += d
		}
		g.links, g.joints, g.level = []link{f.links[k-1], f.links[k]}, []joint{j}, []bool{f.ties.level[k-1], f.ties.level[k]}
		out = append(out, move{k - 1, k, g})
	}
	return out
}

// drops let the link before or after link k, short as it is, take its place up to its middle, and a step that of the rest.
func (f *fitted) drops(k int) (out []move) {
	s := f.segment(k)
	if k == 0 || k == len(f.links)-1 || s.X1-s.X0 > 2*leastShape {
		return nil
	}
	mid := (s.X0 + s.X1) / 2
	if f.movable(k-1, k) {
		g := f.ends(k-1, k)
		g.x1, g.end = mid, f.joints[k].before
		out = append(out, move{k - 1, k, g.one(f.links[k-1], f.ties.level[k-1])})
	}
	if f.movable(k, k) && f.loose(k+2) && f.movable(k+1, k+1) {
		g := f.ends(k, k+1)
		g.x0, g.start = mid, f.joints[k+1].after
		out = append(out, move{k, k + 1, g.one(f.links[k+1], f.ties.level[k+1])})
	}
	return out
}

// nearlyLevel is the slope under which a level run is tried in place of a taper.
const nearlyLevel = 0.02

// levels is a level run in the place of link k, nearly level as it is.
func (f *fitted) levels(k int) []move {
	s := f.segment(k)
	if !s.Straight() && !f.limp(k) || f.ties.level[k] || math.Abs(chordAngle(s)) > nearlyLevel || !f.movable(k, k) {
		return nil
	}
	g := f.ends(k, k)
	g.start = (g.start + g.end) / 2
	g.end = g.start
	return []move{{k, k, g.one(link{}, true)}}
}
