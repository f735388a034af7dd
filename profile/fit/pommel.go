package fit

import (
	"math"

	"spindlestick/profile"
)

// guesses are what the part of a shoulder that shows beside its square is taken for at first: its length and how much
// lower it ends, in half sides (common practice, no source). Seen from the side a camera sees little but its steep end.
func guesses() [2][2]float64 { return [2][2]float64{{0.06, 0.14}, {0.17, 0.12}} }

// brow is the part of a shoulder that shows: where it starts and ends.
type brow struct {
	start, end float64 // stations
	half, r    float64 // radii there
	style      profile.Style
	has        bool // there is a shoulder already
}

// pommels are the shoulders that square k may have at its end in direction step, with a fillet beyond or without.
func (p *picture) pommels(f *fitted, k, step int) []move {
	n := k + step
	if n < 0 || n >= len(f.links) {
		return nil
	}
	e := f.brow(k, step)
	starts, next := []brow{}, n
	if e.has {
		starts, next = append(starts, e), n+step
	}
	e.start = p.edge(k, step, f, e)
	for _, g := range guesses() {
		b := e
		b.style = profile.Quarter
		b.end, b.r, b.has = b.start+float64(step)*g[0]*b.half, b.half*(1-g[1]), false
		starts = append(starts, b)
	}
	var out []move
	out = append(out, f.absorbed(k, step, e, next)...)
	for _, b := range starts {
		if !b.has {
			out = append(out, f.pommel(k, step, b, next, false)...)
		}
		if next >= 0 && next < len(f.links) && !f.ties.level[next] {
			out = append(out, f.pommel(k, step, b, next, true)...)
			if next != n || f.odd(next) > 0 {
				out = append(out, f.pommel(k, step, b, next+step, true)...)
			}
		}
	}
	return out
}

// absorbed are shoulders that take in link next, in each style.
func (f *fitted) absorbed(k, step int, e brow, next int) (out []move) {
	if next < 0 || next >= len(f.links) || f.ties.level[next] || !f.movable(next, next) {
		return nil
	}
	s := f.segment(next)
	far := s.R1
	if step < 0 {
		far = s.R0
	}
	for _, style := range []profile.Style{profile.Quarter, profile.Reversed} {
		out = append(out, f.put(k, next, step, f.shoulderRows(k, step, brow{start: e.start, half: e.half, r: far, style: style})))
	}
	return out
}

// shoulderRows are square k and the shoulder b.
func (f *fitted) shoulderRows(k, step int, b brow) rows {
	sh := shoulder{link: k + step, square: k, style: b.style}
	return rows{{link: f.links[k], level: true, square: true, r0: b.half, r1: b.half},
		{link: link{form: sh.form()}, x: b.start, r0: b.half, r1: b.r, style: b.style}}
}

// flatShare is how far, as a share of it, readings along a square may lie under half its side.
const flatShare = 0.01

// edge returns the station at which the trace leaves the flat of square k in direction step, or where b has it when the trace
// does not say.
func (p *picture) edge(k, step int, f *fitted, b brow) float64 {
	mid := (f.joints[k].x + f.joints[k+1].x) / 2
	far := b.start + float64(step)*b.half
	at := b.start
	for _, s := range samplesBetween(p.trace, math.Min(mid, far), math.Max(mid, far)) {
		low := s.R < b.half*(1-flatShare)
		if step > 0 && low {
			return s.X
		}
		if step < 0 && low {
			at = s.X
		}
	}
	return at
}

// brow returns the shoulder of square k in direction step as far as it is known.
func (f *fitted) brow(k, step int) brow {
	n := k + step
	e := brow{start: f.joints[max(k, n)].x, half: f.joints[k].after, style: profile.Quarter}
	if sh, ok := f.ties.shoulder(n); ok && sh.square == k {
		e.style, e.has = sh.style, true
		far := f.joints[n]
		e.end, e.r = far.x, far.after
		if step > 0 {
			far = f.joints[n+1]
			e.end, e.r = far.x, far.before
		}
	}
	return e
}

// pommel is a shoulder that shows as b does, followed by what is left of link next, with a fillet between or without.
func (f *fitted) pommel(k, step int, b brow, next int, fillet bool) []move {
	dir := float64(step)
	w := f.shoulderRows(k, step, b)
	if next < 0 || next >= len(f.links) {
		return nil
	}
	at := b.end
	if fillet {
		at += dir * filletGuess * filletLimit(2*b.r)
	}
	if s := f.segment(next); step > 0 {
		at = math.Max(at, s.X0)
	} else {
		at = math.Min(at, s.X1)
	}
	rest, ok := f.remnant(next, at, step)
	if !ok {
		return nil
	}
	if fillet {
		low := math.Max(leastRadius, math.Min(rest.r0, b.r)-leastStep)
		w = append(w, row{level: true, x: b.end, r0: low, r1: low})
	}
	return []move{f.put(k, next, step, append(w, rest))}
}

// restyled are the other styles that the shoulder of square k in direction step may have.
func restyled(f *fitted, k, step int) (out []move) {
	b := f.brow(k, step)
	if !b.has {
		return nil
	}
	n := k + step
	for _, style := range []profile.Style{profile.Quarter, profile.Reversed, profile.Straight} {
		if style == f.brow(k, step).style {
			continue
		}
		b.style = style
		out = append(out, f.put(k, n, step, f.shoulderRows(k, step, b)))
	}
	return out
}

// row is a link of a row that starts at station x with radius r0 and ends with r1.
type row struct {
	link
	x, r0, r1     float64
	level, square bool
	style         profile.Style // of a shoulder of the row's square
}

// rows are links in the order of one direction along the axis, the square first.
type rows []row

// remnant is what is left of link k beyond station x; false where nothing is, or where link k may not be cut.
func (f *fitted) remnant(k int, x float64, step int) (row, bool) {
	_, isShoulder := f.ties.shoulder(k)
	if k < 0 || k >= len(f.links) || isShoulder || f.ties.square[k] || !f.loose(k) || !f.loose(k+1) {
		return row{}, false
	}
	a, b := f.joints[k].x, f.joints[k+1].x
	if step > 0 {
		a = x
	} else {
		b = x
	}
	if b-a < leastShape/2 {
		return row{}, false
	}
	s := f.shortened(k, a, b)
	if step > 0 {
		return row{link: s.link, x: x, r0: s.r0, r1: s.r1, level: f.ties.level[k]}, true
	}
	return row{link: s.link, x: x, r0: s.r1, r1: s.r0, level: f.ties.level[k]}, true
}

// put replaces the links from first to last in direction step by a row.
func (f *fitted) put(first, last, step int, w rows) move {
	n := len(w)
	g := f.ends(min(first, last), max(first, last))
	g.links, g.joints, g.level, g.square = make([]link, n), make([]joint, n-1), make([]bool, n), make([]bool, n)
	g.shoulders = []shoulder{}
	at := func(i int) int {
		if step > 0 {
			return i
		}
		return n - 1 - i
	}
	for i, r := range w {
		g.links[at(i)], g.level[at(i)], g.square[at(i)] = r.link, r.level, r.square
		if r.style != "" {
			g.shoulders = append(g.shoulders, shoulder{link: at(i), square: at(0), style: r.style})
		}
		if i == 0 {
			continue
		}
		j := joint{x: r.x, before: w[i-1].r1, after: r.r0, lo: r.x, hi: r.x}
		if step < 0 {
			j.before, j.after = r.r0, w[i-1].r1
		}
		g.joints[min(at(i), at(i-1))] = j
	}
	g.start, g.end = w[0].r0, w[n-1].r1
	if step < 0 {
		g.start, g.end = w[n-1].r1, w[0].r0
	}
	return move{min(first, last), max(first, last), g}
}
