package view

// median reorders v, which must not be empty.
func median(v []float64) float64 {
	n := len(v)
	upper := selected(v, n/2)
	if n%2 == 1 {
		return upper
	}
	lower := v[0]
	for _, x := range v[1 : n/2] {
		lower = max(lower, x)
	}
	return (lower + upper) / 2
}

// selected returns what would stand at place k if v were sorted, with nothing larger before it and nothing smaller behind
// it (Hoare's selection, the middle of three as pivot).
func selected(v []float64, k int) float64 {
	lo, hi := 0, len(v)-1
	for lo < hi {
		a, b, c := v[lo], v[(lo+hi)/2], v[hi]
		pivot := max(min(a, b), min(max(a, b), c))
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
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}
