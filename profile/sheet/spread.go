package sheet

// spread places boxes side by side in the order given, each as near as can be to where it wants to stand: it
// minimises the sum of squared distances between at[i] and want[i] under at[i+1]-at[i] >= (width[i]+width[i+1])/2 and
// lo <= at[i]-width[i]/2, at[i]+width[i]/2 <= hi. want must not decrease. ok is false when the boxes are wider than
// the room. With the widths taken off this is isotonic regression, solved by pooling adjacent violators (Ayer and
// others 1955); holding its solution within bounds solves the bounded problem.
func spread(want, width []float64, lo, hi float64) (at []float64, ok bool) {
	n := len(want)
	shift := make([]float64, n) // how far box i stands from the first when all touch
	total := 0.0
	for i := range n {
		if i > 0 {
			shift[i] = shift[i-1] + (width[i-1]+width[i])/2
		}
		total += width[i]
	}
	if n == 0 || total > hi-lo {
		return nil, n == 0
	}
	type pool struct {
		mean  float64
		count int
	}
	var pools []pool
	for i := range n {
		p := pool{want[i] - shift[i], 1}
		for len(pools) > 0 && pools[len(pools)-1].mean > p.mean {
			q := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			c := q.count + p.count
			p = pool{(q.mean*float64(q.count) + p.mean*float64(p.count)) / float64(c), c}
		}
		pools = append(pools, p)
	}
	first := lo + width[0]/2
	last := hi - width[n-1]/2 - shift[n-1]
	for _, p := range pools {
		for range p.count {
			at = append(at, min(max(p.mean, first), last)+shift[len(at)])
		}
	}
	return at, true
}
