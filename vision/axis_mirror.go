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
	cum         []float32 // cum[j*nx+i]: labels of column i summed over rows < j
	rise        []float32
	first, last [2]int // columns: lowest and highest
	least       int    // least half-width, samples
}

func newMirrorSearch(s *strip, q labels, contrast float64) *mirrorSearch {
	return &mirrorSearch{s: s, cum: cumulate(q, s.nx, s.ny), rise: s.rises(contrast), least: 1,
		first: [2]int{0, s.nx - 1}, last: [2]int{0, s.nx - 1}}
}

// cumulate sums the labels down each column; row j holds the sum of the rows before it.
func cumulate(q labels, nx, ny int) []float32 {
	cum := make([]float32, nx*(ny+1))
	for j := range ny {
		for i := range nx {
			cum[(j+1)*nx+i] = cum[j*nx+i] + q[j*nx+i]
		}
	}
	return cum
}

// cost of covering rows mid + c - w .. mid + c + w of column i.
func (m *mirrorSearch) cost(i, w, c int) float32 {
	a, b := m.s.mid+c-w, m.s.mid+c+w
	nx := m.s.nx
	return -2*(m.cum[(b+1)*nx+i]-m.cum[a*nx+i]) - edgeGain*(m.rise[a*nx+i]+m.rise[b*nx+i]-0.5)
}

// run searches and returns the best path.
func (m *mirrorSearch) run() mirrorPath {
	width := m.s.mid - shiftReach // half-widths 0..width-1
	states := (2*shiftReach + 1) * width
	from := make([]int32, m.s.nx*states) // -1: the piece begins here
	cur, next := filled(states), filled(states)
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
	n := 2*shiftReach + 1
	reach, via := make([]float32, n*width), make([]int32, n*width)
	for c := range n {
		stepped(cur[c*width:(c+1)*width], reach[c*width:(c+1)*width], via[c*width:(c+1)*width], int32(c*width))
	}
	open := i >= m.first[0] && i <= m.first[1]
	for c := range n {
		for w := m.least; w < width; w++ {
			k := c*width + w
			v, f := reach[k], via[k]
			if c > 0 && reach[k-width]+shiftCost < v {
				v, f = reach[k-width]+shiftCost, via[k-width]
			}
			if c < n-1 && reach[k+width]+shiftCost < v {
				v, f = reach[k+width]+shiftCost, via[k+width]
			}
			if open && v > 0 {
				v, f = 0, -1
			}
			next[k], from[k] = v+m.cost(i, w, c-shiftReach), f
		}
		for w := range m.least {
			next[c*width+w] = math.MaxFloat32 / 4
		}
	}
}

// stepped is the cheapest way to each half-width from those of the column before, with steps at
// stepCost a sample and stepCap at most; via holds where it came from, offset by base.
func stepped(cur, out []float32, via []int32, base int32) {
	low, at := cur[0], 0
	for w, v := range cur {
		out[w], via[w] = v, base+int32(w)
		if v < low {
			low, at = v, w
		}
	}
	for w := 1; w < len(out); w++ {
		if v := out[w-1] + stepCost; v < out[w] {
			out[w], via[w] = v, via[w-1]
		}
	}
	for w := len(out) - 2; w >= 0; w-- {
		if v := out[w+1] + stepCost; v < out[w] {
			out[w], via[w] = v, via[w+1]
		}
	}
	for w := range out {
		if low+stepCap < out[w] {
			out[w], via[w] = low+stepCap, base+int32(at)
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
