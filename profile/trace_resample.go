package profile

// Resampled returns the trace every step mm from 0 to its length, by linear interpolation; stretches where the trace
// has no samples are left out.
func (t Trace) Resampled(step float64) []Sample {
	var out []Sample
	for k := 0; float64(k)*step <= t.Length+joinTolerance; k++ {
		if s, ok := t.At(float64(k) * step); ok {
			out = append(out, s)
		}
	}
	return out
}
