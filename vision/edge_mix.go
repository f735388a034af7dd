package vision

// mix is the channel mix that best tells the inside from the outside (Fisher's linear discriminant),
// scaled so that the mean inside is 1 and outside 0; false if they look alike.
func (e *edgeReader) mix(s *sides) (w [3]float64, offset float64, ok bool) {
	cov := e.scatter(s.light)
	var diff [3]float64
	for i := range diff {
		diff[i] = s.light[0][i] - s.light[1][i]
	}
	w = solve3(cov, diff)
	scale := w[0]*diff[0] + w[1]*diff[1] + w[2]*diff[2]
	if !(scale > 1e-9) {
		return w, 0, false
	}
	for i := range w {
		w[i] /= scale
		offset -= w[i] * s.light[1][i]
	}
	return w, offset, true
}

// scatter is the pooled covariance of the two sides, with the noise of an 8-bit camera as a floor.
func (e *edgeReader) scatter(m [2][3]float64) (cov [3][3]float64) {
	n := float64(len(e.far))
	for i := range e.far {
		q := &e.far[i]
		k, _ := sideOf(q.across, 0)
		var d [3]float64
		for i, v := range e.r.lightOf(q.at) {
			d[i] = float64(v) - m[k][i]
		}
		for i := range 3 {
			for j := range 3 {
				cov[i][j] += d[i] * d[j]
			}
		}
	}
	const floor = 0.003 // linear light: about one level of 255 in the middle tones
	for i := range 3 {
		for j := range 3 {
			cov[i][j] /= n
		}
		cov[i][i] += floor * floor
	}
	return cov
}

// solve3 solves the symmetric positive definite system a x = b by elimination.
func solve3(a [3][3]float64, b [3]float64) [3]float64 {
	for i := range 3 {
		for k := i + 1; k < 3; k++ {
			f := a[k][i] / a[i][i]
			for j := i; j < 3; j++ {
				a[k][j] -= f * a[i][j]
			}
			b[k] -= f * b[i]
		}
	}
	for i := 2; i >= 0; i-- {
		for j := i + 1; j < 3; j++ {
			b[i] -= a[i][j] * b[j]
		}
		b[i] /= a[i][i]
	}
	return b
}
