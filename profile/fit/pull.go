package fit

import (
	"math"
	"sort"

	"spindlestick/profile"
)

// pull is a weak belief about the numbers of a chain: the sum of their multiples lies near a centre. It decides what
// the picture leaves open and keeps what nothing determines finite.
type pull struct {
	at     [2]int     // parameters; the second may be -1
	by     [2]float64 // their multiples, 1 / standard deviation
	centre float64    // in standard deviations
}

func (u pull) residual(all []float64) float64 {
	v := u.by[0]*all[u.at[0]] - u.centre
	if u.at[1] >= 0 {
		v += u.by[1] * all[u.at[1]]
	}
	return v
}

// slopes writes the derivatives by the active numbers.
func (u pull) slopes(active []int, row []float64) {
	for i, a := range active {
		row[i] = 0
		for k := range u.at {
			if u.at[k] == a {
				row[i] += u.by[k]
			}
		}
	}
}

// Standard deviations of what is believed of numbers before the picture is asked, mm (common practice, no source).
const (
	// plainRadius, plainStation and plainSagitta are what the trace leaves open at worst.
	plainRadius  = 1.0
	plainStation = 2.0
	plainSagitta = 1.0
	// likeTwin is how far the fillets on either side of one bead differ in radius, and evenBead how far its two ends.
	likeTwin = 0.15
	evenBead = 0.3
	// onFillet is how far the end of a bead stands off the fillet beside it in radius.
	onFillet = 0.5
)

// beliefs returns the standard deviation and the centre of what is believed of each number.
func (w *exposure) beliefs() (sd, centre []float64) {
	sd, centre = make([]float64, w.layout.n), append([]float64(nil), w.all...)
	for k := range w.chain.joints {
		w.believe(sd, w.layout.x[k], plainStation)
		w.believe(sd, w.layout.before[k], plainRadius)
		w.believe(sd, w.layout.after[k], plainRadius)
	}
	for k := range w.chain.links {
		w.believe(sd, w.layout.sagitta[k], plainSagitta)
		if r, s, ok := w.unseenRadius(k); ok {
			i := w.layout.after[k]
			centre[i], sd[i] = r, s
		}
	}
	return sd, centre
}

// pulls returns the beliefs about the active numbers, centred on where they stand.
func (w *exposure) pulls() []pull {
	sd, centre := w.beliefs()
	out := make([]pull, 0, len(w.active))
	for _, a := range w.active {
		out = append(out, pull{at: [2]int{a, -1}, by: [2]float64{1 / sd[a]}, centre: centre[a] / sd[a]})
	}
	return append(out, w.relations()...)
}

// relations are the beliefs about how numbers stand to one another.
func (w *exposure) relations() (out []pull) {
	for k, l := range w.chain.links {
		a, b := w.layout.after[k], w.layout.before[k+1]
		if l.form == free && l.sagitta > 0 && a != b && w.chain.arcShape(k) == whole && w.chain.stout(k) {
			out = append(out, pull{at: [2]int{a, b}, by: [2]float64{1 / evenBead, -1 / evenBead}})
			out = append(out, w.stands(k)...)
		}
	}
	return out
}

func (w *exposure) believe(sd []float64, i int, s float64) {
	if i >= 0 {
		sd[i] = s
	}
}

// stands are the beliefs that bead k stands on the fillets beside it.
func (w *exposure) stands(k int) (out []pull) {
	on := func(own, fillet, l int) {
		if l >= 0 && l < len(w.ties.level) && w.ties.level[l] && !w.ties.square[l] && own != fillet {
			out = append(out, pull{at: [2]int{own, fillet}, by: [2]float64{1 / onFillet, -1 / onFillet}})
		}
	}
	on(w.layout.after[k], w.layout.before[k], k-1)
	on(w.layout.before[k+1], w.layout.after[k+1], k+1)
	return out
}

// stout reports whether link k is as high as a bead is: a swell's ends are two sizes of their own.
func (c *chain) stout(k int) bool {
	s := c.segment(k)
	return s.Sagitta > swellHeight*s.Chord()
}

// unseenRadius returns what is believed of the radius of level link k when hidden: that of the twin on the
// other side of the bead or cove beside it, and never more than the silhouette leaves.
func (w *exposure) unseenRadius(k int) (r, sd float64, ok bool) {
	if !w.ties.level[k] || w.ties.square[k] {
		return 0, 0, false
	}
	a, b := w.chain.joints[k], w.chain.joints[k+1]
	low, hidden := w.hull(a.x, b.x)
	if !hidden {
		return 0, 0, false
	}
	r, sd = low, plainRadius
	for _, d := range []int{-2, 2} {
		t := k + d
		if t < 0 || t >= len(w.chain.links) || !w.ties.level[t] || w.ties.square[t] {
			continue
		}
		p, q := w.chain.joints[t], w.chain.joints[t+1]
		if _, h := w.hull(p.x, q.x); !h && p.after < low && p.after > low-4*plainRadius {
			return p.after, likeTwin, true
		}
	}
	return r, sd, true
}

// hull returns the lowest radius that the trace reads between two stations, and whether most of it there is hidden: the
// surface lies no higher.
func (p *picture) hull(lo, hi float64) (r float64, hidden bool) {
	n, m := 0, 0
	r = math.Inf(1)
	for _, s := range samplesBetween(p.trace, lo, hi) {
		r = math.Min(r, s.R)
		n++
		if s.State == profile.Hidden || s.State == profile.Inferred {
			m++
		}
	}
	return r, n > 0 && 2*m > n
}

// samplesBetween returns the samples from station lo to hi.
func samplesBetween(t profile.Trace, lo, hi float64) []profile.Sample {
	i := sort.Search(len(t.Samples), func(i int) bool { return t.Samples[i].X >= lo })
	j := sort.Search(len(t.Samples), func(j int) bool { return t.Samples[j].X > hi })
	return t.Samples[i:max(i, j)]
}
