package check

import (
	"errors"
	"fmt"
	"math"

	"spindlestick/profile"
)

// Spread is how far several pieces of one design differ; mm, uncertainties expanded (k = 2).
type Spread struct {
	Model     int // the piece whose order of elements the likely pattern has: the one most like all the others
	Diameters []Agreement
	Lengths   []Agreement
	Remarks   []Remark
}

// Agreement is one quantity as the pieces give it.
type Agreement struct {
	X       float64 // station of the likely pattern; of a length, where the element starts
	What    string
	Value   float64 // the robust mean
	U       float64
	Scatter float64 // standard deviation of a piece, from the median absolute deviation
	Words   []Word
}

// Word is what one piece says.
type Word struct {
	Piece   int // index of the piece
	Value   float64
	U       float64
	Outlier bool // far from the others, beyond scatter and uncertainty
}

// ErrDesign is wrapped when pieces are not of one design, or too few are left.
var ErrDesign = errors.New("the originals cannot be joined")

// leastAlike is the share of the model's stations that a piece of the same design must have: below it the pieces merely
// are turnings too.
const leastAlike = 0.5

// LikelyOptions choose how originals are joined. The zero value lets the majority decide.
type LikelyOptions struct {
	// Worn says that the pieces have lost wood: of diameters that differ by more than their uncertainty and the maker's own
	// scatter the fuller ones count, for wear and chips only take away.
	Worn bool
}

// Likely joins several originals of one design into the pattern they most likely all come from: elements are paired in
// order, whatever the pieces' lengths, and every diameter and length is a robust mean over the pieces (Tukey's biweight,
// weights w/U²). Hidden and damaged stretches say nothing. Pieces must have patterns; dropped ones do not count.
func Likely(pieces []Piece, o LikelyOptions) (profile.Pattern, Spread, error) {
	var in []*side
	var index []int
	for i, p := range pieces {
		if p.Drop {
			continue
		}
		if err := p.validate(); err != nil {
			return profile.Pattern{}, Spread{}, err
		}
		if !p.patterned() {
			return profile.Pattern{}, Spread{}, fmt.Errorf("check: %s: %w: it has a trace and no pattern", p.name(), ErrPiece)
		}
		in, index = append(in, &side{p, p.marks()}), append(index, i)
	}
	if len(in) < 2 {
		return profile.Pattern{}, Spread{}, fmt.Errorf("check: %w: %d counted, it takes two or more", ErrDesign, len(in))
	}
	j, err := newJoint(in, index)
	if err != nil {
		return profile.Pattern{}, Spread{}, err
	}
	_, first := j.build()
	j.rescale(first)
	p, s := j.build()
	if o.Worn {
		j.worn, j.hand = true, s.hand()
		p, s = j.build()
	}
	if err := p.Validate(); err != nil {
		return profile.Pattern{}, Spread{}, fmt.Errorf("check: %w: %w: drop the piece that differs most", ErrDesign, err)
	}
	s.Remarks = remarks(s, len(pieces))
	return p, s, nil
}

// joint is several pieces paired with the one most like all.
type joint struct {
	sides []*side
	index []int // of the sides in the caller's list
	model int
	pairs [][]pair  // for each side, model's station with its own
	share []float64 // by which each side's diameters are too large all over; see rescale
	worn  bool      // the fuller diameters count
	hand  float64   // the maker's own scatter of a diameter, one standard deviation, mm
}

func newJoint(in []*side, index []int) (*joint, error) {
	j := &joint{sides: in, index: index, share: make([]float64, len(in))}
	least := math.Inf(1)
	for m := range in {
		total := 0.0
		var all [][]pair
		for k := range in {
			p, c := match(in[m].marks, in[k].marks)
			total, all = total+c, append(all, p)
		}
		if total < least {
			least, j.model, j.pairs = total, m, all
		}
	}
	for k, p := range j.pairs {
		if len(p) < 2 || float64(len(p)) < leastAlike*float64(len(in[j.model].marks)) {
			return nil, fmt.Errorf("check: %w: %s is not of the same design as %s: only %d of %d stations are alike, drop one", ErrDesign,
				in[k].piece.name(), in[j.model].piece.name(), len(p), len(in[j.model].marks))
		}
	}
	return j, nil
}

// leastForScale is how many pieces it takes to say that one of them is off all over: two only disagree.
const leastForScale = 3

// rescale takes out by what share a piece is larger or smaller all over, so that an oval one, seen across one face, does
// not outvote a sound one where the third is worn.
func (j *joint) rescale(s Spread) {
	if len(j.sides) < leastForScale {
		return
	}
	for k, i := range j.index {
		if share, whole := allOver(s.Diameters, i); whole {
			j.share[k] = share
		}
	}
}

// partner is the side's own station like the model's station i, or what it has there.
func (j *joint) partner(k, i int) (mark, bool) {
	a, s := j.sides[j.model].marks[i], j.sides[k]
	for _, p := range j.pairs[k] {
		if p.o == i {
			return s.marks[p.c], true
		}
	}
	return s.piece.markAt(carry(a.x, j.pairs[k], j.sides[j.model].marks, s.marks, 0), a, j.sides[j.model].piece), false
}

// weight is the user's weight of side k.
func (j *joint) weight(k int) float64 {
	if w := j.sides[k].piece.Weight; w > 0 {
		return w
	}
	return 1
}

// diameters gathers what the pieces say of a face of the model's station i. Without any that was seen the model's stands.
func (j *joint) diameters(i int, pick func(mark) face) []value {
	var out []value
	for k := range j.sides {
		m, _ := j.partner(k, i)
		if f := pick(m); f.ok && f.seen {
			out = append(out, value{f.d / (1 + j.share[k]), f.u, j.weight(k), j.index[k], f.d})
		}
	}
	if len(out) == 0 {
		f := pick(j.sides[j.model].marks[i])
		out = []value{{f.d, f.u, 1, j.index[j.model], f.d}}
	}
	return out
}

// lengths gathers the distances between the model's stations i and n (an element's ends) on the pieces that have both.
func (j *joint) lengths(i, n int) []value {
	var out []value
	for k := range j.sides {
		a, okA := j.partner(k, i)
		b, okB := j.partner(k, n)
		if okA && okB && b.x > a.x {
			l := b.x - a.x
			out = append(out, value{l, math.Hypot(a.ux, b.ux), j.weight(k), j.index[k], l})
		}
	}
	return out
}

// outlierScales is how many standard deviations from the rest make an outlier: three, as control charts have it (from
// memory, ISO 7870).
const outlierScales = 3

// hand is how well the maker repeats a diameter, one standard deviation, mm: the median of the scatters, since most
// stations of most pieces are sound.
func (s Spread) hand() float64 {
	var all []float64
	for _, a := range s.Diameters {
		if len(a.Words) > 1 {
			all = append(all, a.Scatter)
		}
	}
	if len(all) == 0 {
		return 0
	}
	return median(all)
}

// fuller leaves the diameters that are no further under the largest than uncertainty and the maker's hand explain.
func fuller(vals []value, hand float64) []value {
	most := vals[0]
	for _, v := range vals {
		if v.v > most.v {
			most = v
		}
	}
	var out []value
	for _, v := range vals {
		own := math.Hypot(math.Max(v.u, leastU), math.Max(most.u, leastU)) / 2
		if most.v-v.v <= outlierScales*math.Hypot(own, math.Sqrt2*hand) {
			out = append(out, v)
		}
	}
	return out
}

// agreed is what the pieces say of a diameter.
func (j *joint) agreed(x float64, what string, vals []value) Agreement {
	if !j.worn {
		return agree(x, what, vals, vals)
	}
	return agree(x, what, vals, fuller(vals, j.hand))
}

// agree makes the robust mean of the values that count and says who of all stands apart.
func agree(x float64, what string, vals, count []value) Agreement {
	c, scatter, u := consensus(count)
	a := Agreement{X: x, What: what, Value: c, U: u, Scatter: scatter}
	for _, v := range vals {
		scale := math.Max(scatter, math.Max(v.u, leastU)/2)
		a.Words = append(a.Words, Word{v.piece, v.said, v.u, math.Abs(v.said-c) > outlierScales*scale})
	}
	return a
}
