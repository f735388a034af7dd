package vision

import (
	"math"
	"sort"
)

// robustLine fits y = a + m x by least squares reweighted with Tukey's biweight, starting from a line
// of medians so that up to a third of the points may be far off; (0, 0) for fewer than three points.
func robustLine(x, y []float64) (a, m float64) {
	if len(x) < 3 {
		return 0, 0
	}
	a, m = medianLine(x, y)
	w := make([]float64, len(x))
	res := make([]float64, len(x))
	for range 15 { // settles well before
		for i := range res {
			res[i] = math.Abs(y[i] - a - m*x[i])
		}
		s := 1.48 * quantile(append([]float64(nil), res...), 0.5)
		s = math.Max(s, 1e-3) // px: exact data must not divide by zero
		for i, r := range res {
			t := r / (4.7 * s)
			w[i] = 0
			if t < 1 {
				w[i] = (1 - t*t) * (1 - t*t)
			}
		}
		a, m = weightedLine(x, y, w)
	}
	return a, m
}

// medianLine takes the median of the slopes between each point and the one half the points further on,
// and of the heights.
func medianLine(x, y []float64) (a, m float64) {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(i, j int) bool { return x[order[i]] < x[order[j]] })
	half := len(x) / 2
	var slopes, heights []float64
	for i := 0; i+half < len(order); i++ {
		p, q := order[i], order[i+half]
		if x[q] > x[p] {
			slopes = append(slopes, (y[q]-y[p])/(x[q]-x[p]))
		}
	}
	m = quantile(slopes, 0.5)
	for i := range x {
		heights = append(heights, y[i]-m*x[i])
	}
	return quantile(heights, 0.5), m
}

// weightedLine is the weighted least-squares line; a flat one if all x agree.
func weightedLine(x, y, w []float64) (a, m float64) {
	var s, sx, sy, sxx, sxy float64
	for i, v := range x {
		s += w[i]
		sx += w[i] * v
		sy += w[i] * y[i]
	}
	if s == 0 {
		return 0, 0
	}
	mx, my := sx/s, sy/s
	for i, v := range x {
		sxx += w[i] * (v - mx) * (v - mx)
		sxy += w[i] * (v - mx) * (y[i] - my)
	}
	if sxx > 0 {
		m = sxy / sxx
	}
	return my - m*mx, m
}

// quantile is the q-quantile of v, 0 for an empty slice. It changes the order of v.
func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return 0
	}
	at := min(len(v)-1, int(q*float64(len(v))))
	lo, hi := 0, len(v)-1
	for hi-lo > 12 { // Hoare's selection: keep the part that holds the wanted place
		pivot := middleOf(v[lo], v[(lo+hi)/2], v[hi])
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case at <= j:
			hi = j
		case at >= i:
			lo = i
		default:
			return v[at]
		}
	}
	for i := lo + 1; i <= hi; i++ { // by insertion
		x, j := v[i], i
		for ; j > lo && v[j-1] > x; j-- {
			v[j] = v[j-1]
		}
		v[j] = x
	}
	return v[at]
}

// middleOf is the median of three values.
func middleOf(a, b, c float64) float64 {
	return math.Max(math.Min(a, b), math.Min(math.Max(a, b), c))
}
