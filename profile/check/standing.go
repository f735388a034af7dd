package check

// Standing is a copy's verdict as a whole: outside where any place is, not yet measured while any is missing, otherwise
// the least sure of what was seen.
func (r Report) Standing() Verdict {
	n := map[Verdict]int{}
	for _, s := range r.Stations {
		n[s.Verdict]++
	}
	for _, p := range r.Positions {
		n[p.Verdict]++
	}
	for _, v := range []Verdict{Outside, NotMeasured, Unsure, Inside} {
		if n[v] > 0 {
			return v
		}
	}
	return NotSeen
}

// Measured is how many of the places are measured or seen, and of how many.
func (r Report) Measured() (n, of int) {
	for _, s := range r.Stations {
		if !s.Absent {
			n++
		}
	}
	return n, len(r.Stations)
}

// TakeOff is what has to go off the diameter for the copy to be as thick as the original, mm: of a place that is outside
// its tolerance and too thick. What is too thin cannot be mended; the rest is left alone.
func (r Row) TakeOff() float64 {
	if r.Verdict != Outside || r.Deviation <= 0 {
		return 0
	}
	return r.Deviation
}

// Lost reports whether the copy is thinner there than its tolerance allows.
func (r Row) Lost() bool { return r.Verdict == Outside && r.Deviation < 0 }
