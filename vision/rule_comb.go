package vision

import (
	"cmp"
	"math"
	"slices"

	"spindlestick/profile/lsq"
)

const (
	// combShare is the part of the windows between the marks that must show the comb.
	combShare = 0.6
	// combSpread is how far, as a part, a window's frequency may lie off that of a rule seen in perspective; lenses make 2 %.
	combSpread = 0.06
	// combRows rows are read to either side at most until one agrees with the marks: the clearest pattern beside a rule may be another
	// thing's. Their distance, 1.5 mm, is less than the shortest lines are long.
	combRows = 8
	// combLeast is the least number of stretches that make a rule.
	combLeast = 3
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

// clearest returns the rows with the clearest tones between the marks, spread over the reach, the best first.
func (l ruleLine) clearest(rows [][]float64, s *spectrum) []int {
	lo, hi := -l.from, -l.from+int(l.length)+1
	score := make([]float64, len(rows))
	order := make([]int, len(rows))
	for v := range rows {
		var clear []float64
		for _, t := range s.tones(highPass(band(rows, v), s.n), lo, hi, s.n/2) {
			clear = append(clear, t.amplitude*t.purity)
		}
		score[v], order[v] = median(clear), v
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(score[b], score[a]) })
	apart := max(l.reach/combRows, 1)
	var best []int
	for _, v := range order {
		near := func(w int) bool { return max(v-w, w-v) < apart }
		if score[v] > 0 && !slices.ContainsFunc(best, near) {
			best = append(best, v)
		}
	}
	return best
}

// combAt reads the graduations along row v. False if there are none that are clear.
func (l ruleLine) combAt(rows [][]float64, s *spectrum, v int) (comb, bool) {
	line := highPass(band(rows, v), s.n)
	tones := s.tones(line, 0, len(line), s.n/4)
	for i := range tones {
		tones[i].at += float64(l.from)
	}
	w, ok := waveOf(tones, l.length, float64(s.n))
	if !ok {
		return comb{}, false
	}
	c := comb{row: float64(v - l.reach), wave: w}
	if !c.read(line, l.from, l.length, phaseJump) || !c.refine(l.length) {
		return comb{}, false
	}
	return c, c.read(line, l.from, l.length, phaseJumpRefined)
}

// refine fits the wave to the graduations read with it. What is read at the rule's ends, where only one side of a stretch has
// lines, is right only if the wave runs at the lines' own frequency.
func (c *comb) refine(length float64) bool {
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
	if err != nil {
		return false
	}
	c.wave = wave{alpha: res.P[0], beta: res.P[1]}
	return c.wave.sane(0) && c.wave.sane(length)
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

// waveOf fits a wave to the tones, false unless most windows between the marks agree.
func waveOf(tones []tone, length, window float64) (wave, bool) {
	var clear []tone
	inside := 0
	for _, t := range tones {
		if t.at > 0 && t.at < length {
			inside++
			if t.purity > combPurity {
				clear = append(clear, t)
			}
		}
	}
	if len(clear) == 0 {
		return wave{}, false
	}
	w := medianWave(clear, window)
	agree := 0
	for _, t := range clear {
		if math.Abs(t.frequency/w.frequency(t.at)-1) < combSpread {
			agree++
		}
	}
	return w, w.sane(0) && w.sane(length) && float64(agree) >= combShare*float64(inside)
}

// medianWave is Theil and Sen's line through frequency^(-1/2): the median slope over pairs of windows that overlap by half at most.
func medianWave(tones []tone, window float64) wave {
	root := func(t tone) float64 { return 1 / math.Sqrt(t.frequency) }
	var slopes, bases []float64
	for i, a := range tones {
		for _, b := range tones[:i] {
			if a.at-b.at >= window/2 {
				slopes = append(slopes, (root(a)-root(b))/(a.at-b.at))
			}
		}
	}
	w := wave{beta: median(slopes)}
	for _, t := range tones {
		bases = append(bases, root(t)-w.beta*t.at)
	}
	w.alpha = median(bases)
	return w
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
