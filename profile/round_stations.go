package profile

import "math"

// block is a run of edges whose distances are fixed: the ends of elements that ties make equal. A free edge is a block of
// its own.
type block struct {
	first   int       // edge
	offsets []float64 // of its edges from the first, mm
	fixed   bool
	at      float64 // where its first edge stands, when fixed
}

// reach is the distance of the block's last edge from its first, mm.
func (b block) reach() float64 { return b.offsets[len(b.offsets)-1] }

// roundedStations returns the edges on multiples of step, mm; the hook end stays at 0 and the far end at the overall
// length. Tied lengths get one multiple, and what hangs on the far end by ties is counted from there. Among all such
// choices it is the one with the least sum of squared moves that leaves every element one step.
func (p Pattern) roundedStations(step float64) ([]float64, bool) {
	class, m := p.lengthClasses()
	blocks := p.blocks(class, p.roundedLengths(class, m, step), tiedClasses(class))
	if len(blocks) == 1 {
		return blocks[0].offsets, blocks[0].at == 0
	}
	was := p.stationsOf()
	for reach := 3; reach <= 96; reach *= 4 {
		if at, ok := settle(blocks, was, step, reach); ok {
			return at, true
		}
	}
	return nil, false
}

// tiedClasses reports which classes of lengths have more than one member.
func tiedClasses(class []int) map[int]bool {
	tied, seen := map[int]bool{}, map[int]bool{}
	for _, c := range class {
		tied[c] = tied[c] || seen[c]
		seen[c] = true
	}
	return tied
}

// roundedLengths returns a length for each class, mm. Where all elements are tied, so that nothing takes up what is
// left of the overall length, the longest does.
func (p Pattern) roundedLengths(class []int, m int, step float64) []float64 {
	sum, n := make([]float64, m), make([]float64, m)
	for i, c := range class {
		sum[c] += p.Elements[i].Length()
		n[c]++
	}
	out := make([]float64, m)
	rest, longest := p.Length, 0
	allTied := true
	for c := range out {
		out[c] = math.Max(1, math.Round(sum[c]/n[c]/step)) * step
		rest -= n[c] * out[c]
		allTied = allTied && n[c] > 1
		if sum[c]/n[c] > sum[longest]/n[longest] {
			longest = c
		}
	}
	if allTied {
		out[longest] += rest / n[longest]
	}
	return out
}

// blocks cuts the edges into rigid runs.
func (p Pattern) blocks(class []int, length []float64, tied map[int]bool) []block {
	var out []block
	b := block{offsets: []float64{0}, fixed: true}
	for i := range p.Elements {
		if tied[class[i]] {
			b.offsets = append(b.offsets, b.reach()+length[class[i]])
			continue
		}
		out = append(out, b)
		b = block{first: i + 1, offsets: []float64{0}}
	}
	if b.fixed { // from one end to the other
		b.offsets[len(b.offsets)-1] = p.Length
		return []block{b}
	}
	b.fixed, b.at = true, p.Length-b.reach()
	return append(out, b)
}

// position is one position of a block, with the cheapest way there.
type position struct {
	at, cost float64
	from     int // the position of the block before
}

// settle finds the cheapest positions by dynamic programming, each within reach steps of where the block would like to
// stand.
func settle(blocks []block, was []float64, step float64, reach int) ([]float64, bool) {
	table := make([][]position, len(blocks))
	for k, b := range blocks {
		for _, at := range b.candidates(was, step, reach) {
			next := position{at: at, cost: math.Inf(1)}
			if k == 0 {
				next.cost = 0
			} else {
				next.reachedFrom(table[k-1], blocks[k-1], b.room(was, step))
			}
			next.cost += b.moves(at, was)
			table[k] = append(table[k], next)
		}
	}
	best := 0
	end := table[len(table)-1]
	for i := range end {
		if end[i].cost < end[best].cost {
			best = i
		}
	}
	if len(end) == 0 || math.IsInf(end[best].cost, 1) {
		return nil, false
	}
	at := make([]float64, len(was))
	for k := len(blocks) - 1; k >= 0; k-- {
		c := table[k][best]
		for j, o := range blocks[k].offsets {
			at[blocks[k].first+j] = c.at + o
		}
		best = c.from
	}
	at[0], at[len(at)-1] = was[0], was[len(was)-1]
	return at, true
}

// reachedFrom takes the cheapest position of the block before that leaves room for the element between.
func (c *position) reachedFrom(before []position, b block, room float64) {
	for i, p := range before {
		if p.cost < c.cost && c.at-(p.at+b.reach()) >= room-joinTolerance {
			c.cost, c.from = p.cost, i
		}
	}
}

// room is the least length of the free element before the block, mm: a step; before the far end, which need not lie on
// the grid, half of one, or what it has.
func (b block) room(was []float64, step float64) float64 {
	if !b.fixed {
		return step
	}
	return math.Max(MinElement, math.Min(step/2, was[b.first]-was[b.first-1]))
}

// candidates are the positions of the block's first edge to try, mm.
func (b block) candidates(was []float64, step float64, reach int) []float64 {
	if b.fixed {
		return []float64{b.at}
	}
	mean := 0.0
	for j, o := range b.offsets {
		mean += (was[b.first+j] - o) / float64(len(b.offsets))
	}
	var out []float64
	for k := -reach; k <= reach; k++ {
		if m := math.Round(mean/step) + float64(k); m > 0 {
			out = append(out, m*step)
		}
	}
	return out
}

// moves is the sum of the squared moves of the block's edges, mm².
func (b block) moves(at float64, was []float64) float64 {
	sum := 0.0
	for j, o := range b.offsets {
		d := at + o - was[b.first+j]
		sum += d * d
	}
	return sum
}
