package vision

import (
	"math"
)

// Costs of the search, in units of one sample's full label.
const (
	edgeGain   = 4.0 // an edge of full contrast
	stepCost   = 0.6 // per sample of change of the half-width between two columns
	stepCap    = 8.0 // and no more for any step: square shoulders are free to jump
	shiftCost  = 3.0 // per sample of sideways shift between two columns
	shiftReach = 4   // samples the middle may leave the axis
)

// mirrorPath is a silhouette that mirrors about a middle line: in columns From..To (inclusive) the
// piece covers rows mid + C[i] +- W[i]; elsewhere W is 0.
type mirrorPath struct {
	W, C     []int
	From, To int
	Gain     float64 // how much better than no piece at all, in samples
}

// mirrorSearch finds the best mirror path by dynamic programming over (half-width, shift). first and
// last bound the columns in which the piece may begin and end.
type mirrorSearch struct {
	s           *strip
	labels      columns
	rise        columns
	first, last [2]int // columns: lowest and highest
	least       int    // least half-width, samples
	closed      bool   // each side by itself ends about where the mirrored silhouette does

	cum   []float32 // the labels of a column summed over the rows before each
	reach []float32 // the cheapest way to each state from the column before, and
	via   []int32   // where it comes from
}

func newMirrorSearch(s *strip, q labels, contrast float64) *mirrorSearch {
	return &mirrorSearch{s: s, labels: newColumns(q, s.nx, s.ny), rise: newColumns(s.rises(contrast), s.nx, s.ny), least: 1,
		first: [2]int{0, s.nx - 1}, last: [2]int{0, s.nx - 1}, cum: make([]float32, s.ny+1)}
}

// run searches and returns the best path.
func (m *mirrorSearch) run() mirrorPath {
	width := m.s.mid - shiftReach // half-widths 0..width-1
	states := (2*shiftReach + 1) * width
	from := make([]int32, m.s.nx*states) // -1: the piece begins here
	cur, next := filled(states), filled(states)
	m.reach, m.via = make([]float32, states), make([]int32, states)
	best, bestCol, bestState := float32(0), -1, -1
	for i := range m.s.nx {
		m.advance(i, width, cur, next, from[i*states:(i+1)*states])
		cur, next = next, cur
		if i < m.last[0] || i > m.last[1] {
			continue
		}
		for k, v := range cur {
			if v < best {
				best, bestCol, bestState = v, i, k
			}
		}
	}
	return m.unwind(from, states, width, bestCol, bestState, float64(-best))
}

func filled(n int) []float32 {
	v := make([]float32, n)
	for i := range v {
		v[i] = math.MaxFloat32 / 4
	}
	return v
}

// advance takes the costs of column i-1 to those of column i.
func (m *mirrorSearch) advance(i, width int, cur, next []float32, from []int32) {
	const n = 2*shiftReach + 1
	for c := range n {
		at := c * width
		stepped(cur[at:at+width], m.reach[at:at+width], m.via[at:at+width], int32(at))
	}
	for j, v := range m.labels.at(i) {
		m.cum[j+1] = m.cum[j] + v
	}
	rise := m.rise.at(i)
	open := i >= m.first[0] && i <= m.first[1]
	for c := range n {
		at, mid := c*width, m.s.mid+c-shiftReach
		for w := range m.least {
			next[at+w] = math.MaxFloat32 / 4
		}
		for w := m.least; w < width; w++ {
			k := at + w
			v, f := m.reach[k], m.via[k]
			if c > 0 && m.reach[k-width]+shiftCost < v {
				v, f = m.reach[k-width]+shiftCost, m.via[k-width]
			}
			if c < n-1 && m.reach[k+width]+shiftCost < v {
				v, f = m.reach[k+width]+shiftCost, m.via[k+width]
			}
			if open && v > 0 {
				v, f = 0, -1
			}
			a, b := mid-w, mid+w // the rows that are covered
			next[k] = v - 2*(m.cum[b+1]-m.cum[a]) - edgeGain*(rise[a]+rise[b]-0.5)
			from[k] = f
		}
	}
}

// stepped is the cheapest way to each half-width from those of the column before, with steps at
// stepCost a sample and stepCap at most; via holds where it came from, offset by base.
func stepped(cur, out []float32, via []int32, base int32) {
	out, via = out[:len(cur)], via[:len(cur)]
	low, at := cur[0], base
	last, from := cur[0], base
	for w, v := range cur {
		if v < low {
			low, at = v, base+int32(w)
		}
		if last += stepCost; v <= last {
			last, from = v, base+int32(w)
		}
		out[w], via[w] = last, from
	}
	last, from = out[len(out)-1], via[len(out)-1]
	for w := len(out) - 1; w >= 0; w-- {
		if last += stepCost; out[w] <= last {
			last, from = out[w], via[w]
		}
		if low+stepCap < last {
			out[w], via[w] = low+stepCap, at
		} else {
			out[w], via[w] = last, from
		}
	}
}

// unwind follows the path back from its last state.
func (m *mirrorSearch) unwind(from []int32, states, width, col, state int, gain float64) mirrorPath {
	p := mirrorPath{W: make([]int, m.s.nx), C: make([]int, m.s.nx), From: 0, To: col, Gain: gain}
	for i := col; i >= 0; i-- {
		p.W[i], p.C[i], p.From = state%width, state/width-shiftReach, i
		state = int(from[i*states+state])
		if state < 0 {
			break
		}
	}
	return p
}
