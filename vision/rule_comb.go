package vision

import (
	"math"
	"math/cmplx"

	"spindlestick/profile/lsq"
)

const (
	// combShare is the part of the windows between the marks that must show the comb.
	combShare = 0.6
	// combSpread is how far, as a part, a window's frequency may lie off that of a rule seen in perspective; lenses make 2 %.
	combSpread = 0.06
	// combFade is the part of the usual contrast below which the rule has ended or is covered.
	combFade = 0.3
	// combJump is the most, in graduations, that the phase may change from one place to the next against the first wave, and
	// combJumpRefined against the fitted one: strong lens distortion makes 0.03 of it.
	combJump, combJumpRefined = 0.25, 0.06
	// combGap is the number of places without a comb after which the rule counts as ended.
	combGap = 3
	// combClear is the number of places to both sides that must show the comb as well.
	combClear = 2
	// combLeastSigma is the least standard deviation in px that is claimed for a graduation: how well rules are printed.
	combLeastSigma = 0.05
)

// combMark is a graduation: its number and its place along the line, px.
type combMark struct{ number, at float64 }

// comb is what was read from a rule.
type comb struct {
	row   float64 // px across the line, where it was read
	wave  wave
	marks []combMark // about one in each stretch that was read by itself
	phase []float64  // at each of marks: by how much the count exceeds that of wave
	sigma float64    // px
}

// comb looks for graduations around the line. False if there are none that are clear.
func (l ruleLine) comb() (comb, bool) {
	rows := l.rows()
	s := newSpectrum(l.length)
	lo, hi := -l.from, -l.from+int(l.length)+1
	best, score := -1, 0.0
	for v := range rows {
		var clear []float64
		for _, t := range s.tones(highPass(band(rows, v), s.n), lo, hi, s.n/2) {
			clear = append(clear, t.amplitude*t.purity)
		}
		if m := median(clear); m > score {
			best, score = v, m
		}
	}
	if best < 0 {
		return comb{}, false
	}
	line := highPass(band(rows, best), s.n)
	tones := s.tones(line, 0, len(line), s.n/4)
	for i := range tones {
		tones[i].at += float64(l.from)
	}
	w, ok := waveOf(tones, l.length, float64(s.n))
	if !ok {
		return comb{}, false
	}
	c := comb{row: float64(best - l.reach), wave: w}
	if !c.read(line, l.from, l.length, combJump) || !c.refine() {
		return comb{}, false
	}
	return c, c.read(line, l.from, l.length, combJumpRefined)
}

// refine fits the wave to the graduations read with it. What is read at the rule's ends, where only one side of a stretch has
// lines, is right only if the wave runs at the lines' own frequency.
func (c *comb) refine() bool {
	const expected = 0.02 // graduations: a usual error of a phase, so that Huber's limit is 0.06
	res, err := lsq.Solve(lsq.Problem{
		Start: []float64{c.wave.alpha, c.wave.beta, mean(c.phase)},
		Scale: []float64{c.wave.alpha, c.wave.alpha / 1000, 1},
		Count: len(c.marks),
		Residuals: func(p, r []float64) {
			w := wave{alpha: p[0], beta: p[1]}
			for i, m := range c.marks {
				r[i] = (w.count(m.at) + p[2] - c.wave.count(m.at) - c.phase[i]) / expected
			}
		},
	}, lsq.Settings{Huber: 3})
	if err != nil || !(res.P[0] > 0) {
		return false
	}
	c.wave = wave{alpha: res.P[0], beta: res.P[1]}
	return true
}

// mean of values.
func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

// wave is the count of graduations of a rule in perspective: u / (alpha (alpha + beta u)) at u px; its frequency is
// 1/(alpha + beta u)^2, so that frequency^(-1/2) is a line.
type wave struct{ alpha, beta float64 }

func (w wave) count(u float64) float64     { return u / (w.alpha * (w.alpha + w.beta*u)) }
func (w wave) frequency(u float64) float64 { return 1 / ((w.alpha + w.beta*u) * (w.alpha + w.beta*u)) }

// waveOf fits a wave to the tones (Theil and Sen's median of slopes), false unless most windows between the marks agree.
func waveOf(tones []tone, length, window float64) (wave, bool) {
	var at, root []float64
	inside := 0
	for _, t := range tones {
		between := t.at > 0 && t.at < length
		if between {
			inside++
		}
		if between && t.purity > combPurity {
			at, root = append(at, t.at), append(root, 1/math.Sqrt(t.frequency))
		}
	}
	if inside == 0 || len(at) == 0 {
		return wave{}, false
	}
	var slopes, bases []float64
	for i := range at {
		for j := range i {
			if at[i]-at[j] >= window/2 {
				slopes = append(slopes, (root[i]-root[j])/(at[i]-at[j]))
			}
		}
	}
	w := wave{beta: median(slopes)}
	for i := range at {
		bases = append(bases, root[i]-w.beta*at[i])
	}
	w.alpha = median(bases)
	agree := 0
	for i := range at {
		if math.Abs(1/(root[i]*root[i])/w.frequency(at[i])-1) < combSpread {
			agree++
		}
	}
	return w, float64(agree) >= combShare*float64(inside)
}

// read locates graduations along the line, starting between the marks and going on to both sides as long as there are any.
func (c *comb) read(line []float64, from int, length, jump float64) bool {
	pitch := 1 / c.wave.frequency(length/2)
	width := math.Max(16, 1.5*pitch) // px, standard deviation of the stretch that is read together
	step := 1.5 * width
	var z []complex128
	var usual []float64
	n := int(float64(len(line)-1) / step)
	for k := range n + 1 {
		u := float64(from) + (float64(k)+0.5)*step
		v := c.demodulate(line, from, u, width)
		z = append(z, v)
		if u > 0 && u < length {
			usual = append(usual, cmplx.Abs(v))
		}
	}
	least := combFade * median(usual)
	start := int((length/2 - float64(from)) / step)
	if start < 0 || start > n || least == 0 {
		return false
	}
	c.marks, c.phase = nil, nil
	place := func(k int) float64 { return float64(from) + (float64(k)+0.5)*step }
	phases := map[int]float64{}
	for _, sign := range [2]int{1, -1} {
		last, missed := cmplx.Phase(z[start])/(2*math.Pi), 0
		for k := start; k >= 0 && k <= n && missed < combGap; k += sign {
			ph := cmplx.Phase(z[k]) / (2 * math.Pi)
			ph += math.Round(last - ph)
			if cmplx.Abs(z[k]) < least || math.Abs(ph-last) > jump || !c.sane(place(k)) {
				missed++
				continue
			}
			phases[k], last, missed = ph, ph, 0
		}
	}
	for k := range n + 1 {
		if !amid(phases, k, n) {
			continue
		}
		u, ph := place(k), phases[k]
		number := math.Round(c.wave.count(u) + ph)
		at := u + (number-c.wave.count(u)-ph)/c.wave.frequency(u)
		c.marks, c.phase = append(c.marks, combMark{number, at}), append(c.phase, ph)
	}
	c.sigma = math.Max(secondDifferences(c.phase)*pitch, combLeastSigma)
	return len(c.marks) >= 3
}

// amid tells whether place k of 0 to n and those whose stretches overlap its own have a phase: what lies beyond the rule's end, or
// covers it, pulls the phases beside it.
func amid(phases map[int]float64, k, n int) bool {
	for j := max(k-combClear, 0); j <= min(k+combClear, n); j++ {
		if _, ok := phases[j]; !ok {
			return false
		}
	}
	return true
}

// sane tells whether the wave is far from where perspective would make its frequency infinite.
func (c *comb) sane(u float64) bool {
	return c.wave.alpha+c.wave.beta*u > 0.3*c.wave.alpha
}

// demodulate is the comb's amplitude and its phase against the wave around u, under a Gaussian; dark lines are at whole counts.
func (c *comb) demodulate(line []float64, from int, u, width float64) complex128 {
	var sum complex128
	weight := 0.0
	for i := max(int(u-3*width)-from, 0); i <= min(int(u+3*width)-from, len(line)-1); i++ {
		x := float64(from + i)
		g := math.Exp(-(x - u) * (x - u) / (2 * width * width))
		sum -= complex(g*line[i], 0) * cmplx.Rect(1, -2*math.Pi*c.wave.count(x))
		weight += g
	}
	return sum / complex(weight, 0)
}

// secondDifferences is the standard deviation of values that otherwise change evenly: 1, -2, 1 multiplies a variance by 6.
func secondDifferences(v []float64) float64 {
	var d []float64
	for i := 2; i < len(v); i++ {
		d = append(d, math.Abs(v[i]-2*v[i-1]+v[i-2]))
	}
	const normal = 1.4826 // standard deviation over median absolute deviation
	return normal * median(d) / math.Sqrt(6)
}

// count is the number of graduations at u, counted from an arbitrary one.
func (c comb) count(u float64) float64 {
	nearest := 0
	for i, m := range c.marks {
		if math.Abs(m.at-u) < math.Abs(c.marks[nearest].at-u) {
			nearest = i
		}
	}
	return c.wave.count(u) + c.phase[nearest]
}

// between is the number of graduations between two places.
func (c comb) between(u, v float64) float64 { return c.count(v) - c.count(u) }
