package fit

// layout says which parameter holds which number of a chain. Numbers that are tied share one.
type layout struct {
	x, before, after, sagitta []int // -1: not a parameter
	n                         int
	touch                     [][2]int // the first and last link that a parameter moves
}

// newLayout numbers the parameters of a chain. Radii that the ties hold equal share one number.
func newLayout(c *chain, t ties) layout {
	n := len(c.links)
	l := layout{x: fill(n + 1), before: fill(n + 1), after: fill(n + 1), sagitta: fill(n)}
	for k := range c.joints {
		if k > 0 && k < n {
			l.x[k] = l.next(k-1, k)
		}
		if k > 0 && k < n && c.links[k].form == sweeps {
			continue // its radius follows from those on either side
		}
		if k > 0 {
			l.before[k] = l.radiusBefore(k, t)
		}
		if k < n {
			l.after[k] = l.radiusAfter(c, k)
			if c.links[k].form == free {
				l.sagitta[k] = l.next(k, k)
			}
		}
	}
	for p := range l.touch {
		// A link that follows another moves with it.
		for l.touch[p][1]+1 < n && c.links[l.touch[p][1]+1].bound() {
			l.touch[p][1]++
		}
		// The end of a sweep moves its start.
		if k := l.touch[p][0]; k > 0 && c.links[k].form == sweeps {
			l.touch[p][0]--
		}
	}
	return l
}

// radiusBefore is the parameter of the radius where link k-1 ends.
func (l *layout) radiusBefore(k int, t ties) int {
	switch {
	case t.level[k-1]:
		return l.share(l.after[k-1], k-1)
	case t.rims[k-1]:
		return l.share(l.after[k-2], k-1)
	}
	return l.next(k-1, k-1)
}

// radiusAfter is the parameter of the radius where link k starts.
func (l *layout) radiusAfter(c *chain, k int) int {
	if k > 0 && !c.joints[k].step() {
		return l.share(l.before[k], k)
	}
	return l.next(k, k)
}

func (l *layout) share(p, link int) int {
	l.touch[p][1] = max(l.touch[p][1], link)
	return p
}

func (l *layout) next(first, last int) int {
	l.touch = append(l.touch, [2]int{first, last})
	l.n++
	return l.n - 1
}

func fill(n int) []int {
	v := make([]int, n)
	for i := range v {
		v[i] = -1
	}
	return v
}

// pack reads the parameters off a chain.
func (l *layout) pack(c *chain) []float64 {
	p := make([]float64, l.n)
	l.each(c, func(i int, v *float64) { p[i] = *v })
	return p
}

// unpack writes the parameters into a chain.
func (l *layout) unpack(p []float64, c *chain) {
	l.each(c, func(i int, v *float64) { *v = p[i] })
	c.settle()
}

func (l *layout) each(c *chain, f func(int, *float64)) {
	for k := range c.joints {
		for _, s := range []struct {
			i int
			v *float64
		}{{l.x[k], &c.joints[k].x}, {l.before[k], &c.joints[k].before}, {l.after[k], &c.joints[k].after}} {
			if s.i >= 0 {
				f(s.i, s.v)
			}
		}
	}
	for k := range c.links {
		if l.sagitta[k] >= 0 {
			f(l.sagitta[k], &c.links[k].sagitta)
		}
	}
}

// ties are what the fit holds equal, and the squares found.
type ties struct {
	level     []bool // link k has the same radius at both ends
	rims      []bool // link k ends a vee at the radius where the link before starts it
	square    []bool // link k is a square
	shoulders []shoulder
	roll      float64 // of the squares as photographed, radians
}

func noTies(c *chain) ties {
	n := len(c.links)
	return ties{level: make([]bool, n), rims: make([]bool, n), square: make([]bool, n)}
}

// part returns the ties of links from to to.
func (t ties) part(from, to int) ties {
	out := ties{level: t.level[from : to+1], rims: t.rims[from : to+1], square: t.square[from : to+1], roll: t.roll}
	for _, s := range t.shoulders {
		if s.link >= from && s.link <= to {
			out.shoulders = append(out.shoulders, shoulder{link: s.link - from, square: s.square - from, style: s.style})
		}
	}
	return out
}

// shoulder returns what is known of link k as a shoulder.
func (t ties) shoulder(k int) (shoulder, bool) {
	for _, s := range t.shoulders {
		if s.link == k {
			return s, true
		}
	}
	return shoulder{}, false
}
