package fit

import "math"

// shape says what a piece of the optimal cut is.
type shape int

const (
	line shape = iota
	arc
	steep // a step, smeared over a few samples: it carries no element
	stray // a sample that belongs to nothing
)

// piece is a run of points [i, j) and its shape.
type piece struct {
	shape shape
	i, j  int
}

// Description lengths in units of ln n: a line has three numbers (where it ends, two for its course), an arc
// four; the fifth guards against the many runs that a search looks at: one line in two hundred looks curved at
// ln n by chance, one in ten thousand at 2 ln n. A smeared step has two; a stray sample pays for itself so
// that noise never looks like one: 2.5 ln n is four standard deviations at a thousand samples.
const (
	lineCost  = 3
	arcCost   = 5
	steepCost = 2
	strayCost = 2.5
	// steepShare is charged for each sample of a step: as much as it would cost in a run that fits (1), and
	// a little more, so that a step never takes samples which a run explains.
	steepShare = 1.2
)

// Limits of the search.
const (
	minLine = 3 // samples: fewer would fit any noise
	minArc  = 5
	// steepReach is how wide blur smears a step on the trace, mm: two pixels of a usual photograph, and the
	// spacing of the samples. blurWidth is the standard deviation of that.
	steepReach = 0.6
	blurWidth  = 0.2
	// monotone is the share of its range by which a step rises or falls from end to end: it does not turn back.
	monotone = 0.9
	// smearShare of the stretch that a rim hides may show a slanting face instead of nothing.
	smearShare = 1.3
	// steepRise is the least rise of a step in standard deviations, so that noise never makes one.
	steepRise = 6
	// hopeless runs of this many samples end the extension of a segment.
	patience = 30
)

// cutter finds the optimal cut of the points.
type cutter struct {
	pts   []point
	sigma float64
	ln    float64
	cost  []float64
	from  []piece
	eye   eye
}

// cut returns the pieces with the least F[j] = min F[i] + SSE/sigma² + penalty.
func cut(pts []point, sigma float64, from eye) []piece {
	n := len(pts)
	c := cutter{pts: pts, sigma: sigma, eye: from, ln: math.Log(float64(max(n, 3))), cost: make([]float64, n+1), from: make([]piece, n+1)}
	for j := 1; j <= n; j++ {
		c.cost[j] = math.Inf(1)
	}
	for i := range n {
		c.extend(i)
		c.steps(i)
	}
	return c.unsmear(c.trace(n))
}

// trace walks back along the cheapest cut.
func (c *cutter) trace(n int) []piece {
	var rev []piece
	for j := n; j > 0; j = c.from[j].i {
		rev = append(rev, c.from[j])
	}
	for a, b := 0, len(rev)-1; a < b; a, b = a+1, b-1 {
		rev[a], rev[b] = rev[b], rev[a]
	}
	return rev
}

func (c *cutter) offer(p piece, cost float64) {
	if cost < c.cost[p.j] {
		c.cost[p.j], c.from[p.j] = cost, p
	}
}

// extend offers all lines and arcs that start at point i.
func (c *cutter) extend(i int) {
	m := newMoments(c.pts[i])
	scale := 1 / (c.sigma * c.sigma)
	bad := 0
	for j := i + 1; j <= len(c.pts) && bad < patience; j++ {
		m.add(c.pts[j-1])
		if m.n < minLine {
			continue
		}
		sse := m.line() * scale
		c.offer(piece{line, i, j}, c.cost[i]+sse+lineCost*c.ln)
		if m.n >= minArc && sse > (arcCost-lineCost)*c.ln {
			sse = m.arc() * scale
			c.offer(piece{arc, i, j}, c.cost[i]+sse+arcCost*c.ln)
		}
		if sse > 3*float64(m.n)+4*arcCost*c.ln {
			bad++
		} else {
			bad = 0
		}
	}
}

// steps offers a smeared step and a stray sample at point i.
func (c *cutter) steps(i int) {
	c.offer(piece{stray, i, i + 1}, c.cost[i]+strayCost*c.ln)
	low, high := c.pts[i].r, c.pts[i].r
	for j := i + 2; j <= len(c.pts); j++ {
		q := c.pts[j-1]
		low, high = math.Min(low, q.r), math.Max(high, q.r)
		if q.x-c.pts[i].x > steepReach+smearShare*c.eye.smear(q.x, low, high) {
			return
		}
		if rise := math.Abs(q.r - c.pts[i].r); rise < steepRise*c.sigma || rise < monotone*(high-low) {
			continue
		}
		c.offer(piece{steep, i, j}, c.cost[i]+steepCost*c.ln+steepShare*float64(j-i)+c.rim(i, j))
	}
}

// rim is the squared misfit, in blurWidth, of samples [i, j) to the outline of a rim at their higher end: at
// radius r it lies as far along the axis as the rim hides a part of that radius.
func (c *cutter) rim(i, j int) float64 {
	at := c.pts[i]
	if last := c.pts[j-1]; last.r > at.r {
		at = last
	}
	sum := 0.0
	for _, q := range c.pts[i:j] {
		d := (math.Abs(q.x-at.x) - c.eye.smear(at.x, q.r, at.r)) / blurWidth
		sum += d * d
	}
	return sum
}

const (
	// rimMisfit is the mean squared misfit, in blurWidth, up to which a short run is the outline of a rim and not a
	// shape: the smoothing of the outline takes the corners off a rim.
	rimMisfit = 4
	// leastShape is the length of the shortest shape that stands by itself, mm: fillets are twice as long. A
	// shorter slope is a step, rounded.
	leastShape = 1.2
)

// unsmear takes the runs that are no more than the outline of a rim as steps. The walls of a vee look the same,
// so they stay where two of them face one another; so does what falls from a long run that may be a square.
func (c *cutter) unsmear(pieces []piece) []piece {
	var out []piece
	for k, p := range pieces {
		if c.smeared(pieces, k) {
			out = append(out, c.split(p)...)
			continue
		}
		out = append(out, p)
	}
	return c.walls(out)
}

// smeared reports whether piece k is no more than the outline of a rim.
func (c *cutter) smeared(pieces []piece, k int) bool {
	p := pieces[k]
	if p.shape > arc || c.facing(pieces, k-1, k) || c.facing(pieces, k, k+1) || c.fromSquare(pieces, k) {
		return false
	}
	rise, span := math.Abs(c.rise(p)), c.span(p)
	if rise < steepRise*c.sigma || rise < span/2 {
		return false
	}
	a, b := c.pts[p.i], c.pts[p.j-1]
	reach := steepReach + smearShare*c.eye.smear(a.x, math.Min(a.r, b.r), math.Max(a.r, b.r))
	return span < leastShape || span < reach && c.rim(p.i, p.j) < rimMisfit*float64(p.j-p.i)
}

// split parts a piece into a step and the level run on its lower side that it may have swallowed.
func (c *cutter) split(p piece) []piece {
	least, at := c.rim(p.i, p.j), -1
	down := c.rise(p) < 0
	for m := p.i + 2; m <= p.j-2; m++ {
		step, run := piece{steep, p.i, m}, piece{line, m, p.j}
		if !down {
			step, run = piece{steep, m, p.j}, piece{line, p.i, m}
		}
		if run.j-run.i < minLine || c.span(run) < leastShape {
			continue
		}
		sums := newMoments(c.pts[run.i])
		for _, q := range c.pts[run.i:run.j] {
			sums.add(q)
		}
		if cost := c.rim(step.i, step.j) + sums.line()/(c.sigma*c.sigma) + lineCost*c.ln; cost < least {
			least, at = cost, m
		}
	}
	switch {
	case at < 0:
		return []piece{{steep, p.i, p.j}}
	case down:
		return []piece{{steep, p.i, at}, {line, at, p.j}}
	}
	return []piece{{line, p.i, at}, {steep, at, p.j}}
}

func (c *cutter) span(p piece) float64 { return c.pts[p.j-1].x - c.pts[p.i].x }

// fromSquare reports whether piece k falls from a level run long enough to be a square.
func (c *cutter) fromSquare(pieces []piece, k int) bool {
	n := k - 1
	if c.rise(pieces[k]) > 0 {
		n = k + 1
	}
	if n < 0 || n >= len(pieces) || pieces[n].shape > arc {
		return false
	}
	q := pieces[n]
	return math.Abs(c.rise(q)) < 0.1*c.span(q) && c.span(q) > squareShare*c.pts[q.i].r
}

func (c *cutter) rise(p piece) float64 { return c.pts[p.j-1].r - c.pts[p.i].r }

// veeFloor is how many samples may lie between the walls of a vee: blur and what its rims hide round its bottom.
const veeFloor = 4

// facing reports whether pieces a and b are two lines that fall and rise again as the walls of a vee; a few samples
// may lie between them.
func (c *cutter) facing(pieces []piece, a, b int) bool {
	if b < len(pieces) && pieces[b].j-pieces[b].i <= veeFloor && pieces[b].shape != line {
		b++
	}
	if a >= 0 && pieces[a].j-pieces[a].i <= veeFloor && pieces[a].shape != line && b == a+1 {
		a--
	}
	if a < 0 || b >= len(pieces) || pieces[a].shape != line || pieces[b].shape != line {
		return false
	}
	steepness := func(p piece) float64 { return c.rise(p) / math.Max(1e-9, c.span(p)) }
	return steepness(pieces[a]) < -0.5 && steepness(pieces[b]) > 0.5
}
