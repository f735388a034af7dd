package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Colour histograms have 2^binBits bins a channel: 8 tones wide, about the spread of wood grain.
const (
	binBits = 5
	binSide = 1 << binBits
)

// histogram counts tones.
type histogram struct {
	n   []float32
	sum float32
}

func newHistogram() *histogram { return &histogram{n: make([]float32, binSide*binSide*binSide)} }

func bin(v float32) int { return min(binSide-1, max(0, int(v)>>(8-binBits))) }

// cell is the index of the bin of a tone.
func cell(c colour) int { return (bin(c[0])<<binBits|bin(c[1]))<<binBits | bin(c[2]) }

func (h *histogram) add(c colour) {
	h.n[cell(c)]++
	h.sum++
}

// smooth blurs the histogram by the weights 1 2 1 along each channel, so that tones between those
// seen are expected too.
func (h *histogram) smooth() {
	for _, stride := range [3]int{1, binSide, binSide * binSide} {
		out := make([]float32, len(h.n))
		for i, v := range h.n {
			if v == 0 {
				continue
			}
			pos := i / stride % binSide
			out[i] += v / 2
			if pos > 0 {
				out[i-stride] += v / 4
			}
			if pos < binSide-1 {
				out[i+stride] += v / 4
			}
		}
		h.n = out
	}
}

// labels say for each sample of a strip how much it looks like the piece (+1) or the ground (-1).
type labels []float32

// firstLabels compares the strip with the model of the lit ground.
func (cand *candidate) firstLabels(s *strip, small *small) labels {
	q := make(labels, len(s.pix))
	limit := cand.ground.limit()
	parallel(s.ny, func(j int) {
		p := small.part(s.f.at(s.x0, s.offset(float64(j))))
		along := r2.Scale(s.step/float64(small.k), s.f.E)
		for i := range s.nx {
			k := j*s.nx + i
			if !s.ok[k] {
				continue
			}
			d := math.Sqrt(cand.ground.unlike2(&s.pix[k], p.X+float64(i)*along.X, p.Y+float64(i)*along.Y, float32(cand.floor)))
			q[k] = float32(math.Max(-1, math.Min(1, (d-limit)/limit)))
		}
	})
	return q
}

// classifier labels tones: it is a table over the bins of a histogram.
type classifier []float32

// learn builds a classifier from the tones inside and outside a silhouette: inside and outside say
// which samples certainly are piece and ground.
func learn(s *strip, inside, outside func(i, j int) bool) classifier {
	piece, rest := newHistogram(), newHistogram()
	for j := range s.ny {
		for i := range s.nx {
			k := j*s.nx + i
			switch {
			case !s.ok[k]:
			case inside(i, j):
				piece.add(s.pix[k])
			case outside(i, j):
				rest.add(s.pix[k])
			}
		}
	}
	piece.smooth()
	rest.smooth()
	return compare(piece, rest)
}

// compare labels each bin by the logarithm of the two likelihoods' ratio, one unit of label for a
// ratio of twenty. Tones seen in neither tell nothing.
func compare(piece, rest *histogram) classifier {
	const unseen = 2e-5 // the share of a bin that was hardly seen: a few pixels of a strip
	table := make(classifier, len(piece.n))
	np, nr := piece.sum+1, rest.sum+1
	for i := range table {
		ratio := (piece.n[i]/np + unseen) / (rest.n[i]/nr + unseen)
		table[i] = float32(math.Max(-1, math.Min(1, math.Log(float64(ratio))/math.Log(20))))
	}
	return table
}

// label applies the classifier to a strip.
func (t classifier) label(s *strip) labels {
	q := make(labels, len(s.pix))
	for k, c := range s.pix {
		if s.ok[k] {
			q[k] = t[cell(c)]
		}
	}
	return q
}

// clearRun is how many samples of sure ground in a row, outward from the axis, mean that the piece has
// ended: a rule or a board beyond them is something else.
const clearRun = 15

// cutBeyond labels all that lies beyond clear ground, as seen from the axis, as ground.
func (q labels) cutBeyond(s *strip) {
	parallel(s.nx, func(i int) {
		for _, sign := range [2]int{-1, 1} {
			run := 0
			for j := s.mid; j >= 0 && j < s.ny; j += sign {
				k := j*s.nx + i
				if run >= clearRun {
					q[k] = -1
				} else if q[k] < -0.5 {
					run++
				} else {
					run = 0
				}
			}
		}
	})
}
