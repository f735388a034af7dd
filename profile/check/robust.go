package check

import (
	"math"
	"sort"
)

// value is one piece's word on a quantity.
type value struct {
	v, u  float64 // the value and its expanded uncertainty
	w     float64 // the user's weight of the piece
	piece int
	said  float64 // as the piece has it; v may be corrected for what is wrong all over it
}

// leastU stands for uncertainties that are smaller or not known when values are weighted, mm: what calipers resolve on
// wood, so that one value that claims to be exact does not outvote the rest.
const leastU = 0.1

func (v value) weight() float64 {
	u := math.Max(v.u, leastU)
	return v.w / (u * u)
}

// median returns the middle of the values, or the mean of the two middle ones; it sorts them.
func median(v []float64) float64 {
	sort.Float64s(v)
	n := len(v)
	if n%2 == 1 {
		return v[n/2]
	}
	return (v[n/2-1] + v[n/2]) / 2
}

// weightedMedian returns the value with half the weight on either side; where the weight splits evenly, the mean of the
// two values beside the split.
func weightedMedian(vals []value, weight func(value) float64) float64 {
	s := append([]value(nil), vals...)
	sort.Slice(s, func(i, j int) bool { return s[i].v < s[j].v })
	total := 0.0
	for _, v := range s {
		total += weight(v)
	}
	run := 0.0
	for i, v := range s {
		run += weight(v)
		if math.Abs(run-total/2) < 1e-9*total && i+1 < len(s) {
			return (v.v + s[i+1].v) / 2
		}
		if run > total/2 {
			return v.v
		}
	}
	return s[len(s)-1].v
}

// tukeyC is the constant with which Tukey's biweight keeps 95 % efficiency on normal errors (Huber & Ronchetti, Robust
// Statistics; from memory).
const tukeyC = 4.685

// tukeyRounds suffices: from a median the reweighting settles to a thousandth of its scale in a few steps.
const tukeyRounds = 20

// consensus is a robust mean: Tukey's biweight on weights w/u², started at the weighted median with the median absolute
// deviation as its scale. u is the expanded uncertainty of the result: the scatter's share (2 s/√n) and the values' own
// typical uncertainty, which one camera and one rule have in common, by root sum of squares (GUM).
func consensus(vals []value) (c, scatter, u float64) {
	c = weightedMedian(vals, value.weight)
	dev, own := make([]float64, len(vals)), make([]float64, len(vals))
	for i, v := range vals {
		dev[i], own[i] = math.Abs(v.v-c), v.u
	}
	scatter = madSigma * median(dev)
	typical := median(own)
	// Three values can agree by chance: the scale is never under what the values say of themselves.
	scale := math.Max(scatter, math.Max(typical, leastU)/2)
	for range tukeyRounds {
		sum, total := 0.0, 0.0
		for _, v := range vals {
			if t := (v.v - c) / (tukeyC * scale); math.Abs(t) < 1 {
				w := v.weight() * (1 - t*t) * (1 - t*t)
				sum, total = sum+w*v.v, total+w
			}
		}
		if total == 0 {
			break
		}
		c = sum / total
	}
	return c, scatter, math.Hypot(2*scatter/math.Sqrt(float64(len(vals))), typical)
}
