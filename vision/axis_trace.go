package vision

import "math"

// silhouette is a traced outline on a strip: in columns From..To the piece reaches from the middle
// row Middle outward by Reach[0] rows to the left and Reach[1] to the right.
type silhouette struct {
	s        *strip
	Middle   []float64
	Reach    [2][]int
	From, To int
	Torn     bool // a good part of it lies beyond a gap
	Shadow   int  // 1 or 2: the left or right side lies in the piece's own shadow; 0: neither
}

// trace finds the mirrored silhouette, then each side by itself.
func trace(s *strip, q labels, m *mirrorSearch) (silhouette, mirrorPath) {
	p := m.run()
	middle, expect := make([]float64, s.nx), make([]float64, s.nx)
	for i := range middle {
		k := min(max(i, p.From), max(p.To, 0))
		middle[i] = float64(s.mid + p.C[k])
		expect[i] = float64(p.W[i])
	}
	if m.closed {
		q.cutEnds(s, p.From-endSlack, p.To+endSlack)
	}
	return freeSides(s, q, m.rise.field, middle, expect), p
}

// endSlack is how far (columns) each side by itself may end from where the mirrored silhouette does.
const endSlack = 6

// cutEnds labels all outside columns from..to as ground.
func (q labels) cutEnds(s *strip, from, to int) {
	for j := range s.ny {
		for i := range s.nx {
			if i < from || i > to {
				q[j*s.nx+i] = -1
			}
		}
	}
}

// freeSides traces each side by itself, drawn only weakly to the expected half-width.
func freeSides(s *strip, q labels, rise []float32, middle, expect []float64) silhouette {
	out := silhouette{s: s, Middle: middle}
	parallel(2, func(k int) {
		out.Reach[k] = sidePath(s, q, rise, 2*k-1, middle, expect)
	})
	out.trim()
	return out
}

// width is the number of rows covered in column i.
func (o *silhouette) width(i int) int {
	if o.Reach[0][i]+o.Reach[1][i] == 0 {
		return 0
	}
	return o.Reach[0][i] + o.Reach[1][i] + 1
}

// trim sets From and To to the longest run of covered columns, leaving off thin threads at the ends:
// a cord that the piece hangs on is far thinner than any end that was turned.
func (o *silhouette) trim() {
	const thread = 0.08 // of the largest width
	least := 2
	for i := range o.Reach[0] {
		least = max(least, int(thread*float64(o.width(i))))
	}
	o.From, o.To = 0, -1
	total := 0
	for i := 0; i < len(o.Reach[0]); i++ {
		if o.width(i) <= least {
			continue
		}
		from := i
		for i < len(o.Reach[0]) && o.width(i) > least {
			i++
		}
		total += i - from
		if i-1-from > o.To-o.From {
			o.From, o.To = from, i-1
		}
	}
	const scrap = 0.06 // of the columns: bits of a cord or of something else in line with the piece
	o.Torn = float64(total-(o.To-o.From+1)) > scrap*float64(total)
}

// middleLine fits a straight line to the middles of the two edges, in px of the picture: offset a + m x.
func (o *silhouette) middleLine() (a, m float64) {
	var xs, ys []float64
	for i := o.From; i <= o.To; i++ {
		j := o.Middle[i] + float64(o.Reach[1][i]-o.Reach[0][i])/2
		xs = append(xs, o.s.station(float64(i)))
		ys = append(ys, o.s.offset(j))
	}
	return robustLine(xs, ys)
}

// half is the largest half-width, px.
func (o *silhouette) half() float64 {
	w := 0
	for i := o.From; i <= o.To; i++ {
		w = max(w, o.width(i))
	}
	return float64(w) / 2 * o.s.step
}

// span is a range of rows; none if last comes before first.
type span struct{ first, last int }

func (r span) holds(j int) bool { return j >= r.first && j <= r.last }

// spans are the rows of each column that lie inside the silhouette by at least margin samples, or, for a negative
// margin, inside it enlarged by as much.
func (o *silhouette) spans(margin int) []span {
	out := make([]span, o.s.nx)
	for i := range out {
		out[i].last = -1
		if i < o.From+margin || i > o.To-margin {
			continue
		}
		c := min(max(i, o.From), o.To)
		mid := int(math.Ceil(o.Middle[c])) // the first row of the right side
		out[i] = span{mid, mid - 1}
		if reach := o.Reach[0][c] - margin; reach > 0 {
			out[i].first = int(math.Ceil(o.Middle[c] - float64(reach)))
		}
		if reach := o.Reach[1][c] - margin; reach >= 0 {
			out[i].last = int(math.Floor(o.Middle[c] + float64(reach)))
		}
	}
	return out
}

// contrastColumns is how many columns, at least, the contrast is read from: neighbours show the same.
const contrastColumns = 400

// contrast is the distance of the median tones inside and just outside the silhouette.
func (o *silhouette) contrast() float64 {
	var in, out toneCount
	within, clear, near := o.spans(2), o.spans(-2), o.spans(-10)
	step := max(1, (o.To-o.From)/contrastColumns)
	for j := range o.s.ny {
		for i := max(0, o.From-10); i < min(o.s.nx, o.To+10); i += step {
			k := j*o.s.nx + i
			if !o.s.ok[k] {
				continue
			}
			if within[i].holds(j) {
				in.add(o.s.pix[k])
			} else if !clear[i].holds(j) && near[i].holds(j) {
				out.add(o.s.pix[k])
			}
		}
	}
	return dist(in.median(), out.median())
}

// toneCount counts tones by channel, to a quarter of a tone.
type toneCount [3][4 * 256]int

func (t *toneCount) add(c colour) {
	for k, v := range c {
		t[k][min(max(int(4*v), 0), len(t[k])-1)]++
	}
}

// median is the median tone of each channel, 0 if none was counted.
func (t *toneCount) median() (out colour) {
	for k := range t {
		all, sum := 0, 0
		for _, n := range t[k] {
			all += n
		}
		for i, n := range t[k] {
			if sum += n; sum > all/2 {
				out[k] = float32(i) / 4
				break
			}
		}
	}
	return out
}
