package vision

import (
	"math"
	"math/cmplx"
)

const (
	// phaseWidth is the standard deviation in px of the stretch of a rule that is read together, and phasePitches the least number of
	// graduations in it: below one and a half the comb's harmonics leak in.
	phaseWidth, phasePitches = 16.0, 1.5
	// phaseStep is the distance of stretches as a part of their width: about so far apart they are independent.
	phaseStep = 1.5
	// phaseFade is the part of the usual contrast below which the rule has ended or is covered.
	phaseFade = 0.3
	// phaseJump is the most, in graduations, that the phase may change from one place to the next against the first wave, and
	// phaseJumpRefined against the fitted one: strong lens distortion makes 0.03 of it.
	phaseJump, phaseJumpRefined = 0.25, 0.06
	// phaseGap is the number of places without a comb after which the rule counts as ended.
	phaseGap = 3
	// phaseClear is the number of places to both sides that must show the comb as well.
	phaseClear = 2
)

// read locates graduations along the line, one in each stretch, starting between the marks and going on to both sides as long as
// there are any.
func (c *comb) read(line []float64, from int, length, jump float64) bool {
	r := c.stretches(line, from, length)
	if r.start < 0 || r.start >= len(r.z) || r.least == 0 {
		return false
	}
	phases := map[int]float64{}
	r.walk(phases, 1, jump)
	r.walk(phases, -1, jump)
	c.marks, c.phase = nil, nil
	for k := range r.z {
		if !amid(phases, k) {
			continue
		}
		u, ph := r.place(k), phases[k]
		number := math.Round(c.wave.count(u) + ph)
		at := u + (number-c.wave.count(u)-ph)/c.wave.frequency(u)
		c.marks, c.phase = append(c.marks, combMark{number, at}), append(c.phase, ph)
	}
	c.sigma = math.Max(secondDifferences(c.phase)/c.wave.frequency(length/2), combLeastSigma)
	return len(c.marks) >= combLeast
}

// stretches are what a comb shows at evenly spaced places along a line.
type stretches struct {
	wave  wave
	first float64      // px, of place 0
	step  float64      // px
	z     []complex128 // amplitude, and phase against the wave
	least float64      // the least amplitude that is a comb
	start int          // the place midway between the marks
}

func (c *comb) stretches(line []float64, from int, length float64) stretches {
	width := math.Max(phaseWidth, phasePitches/c.wave.frequency(length/2))
	r := stretches{wave: c.wave, step: phaseStep * width, first: float64(from) + phaseStep*width/2}
	r.start = int((length/2 - float64(from)) / r.step)
	var usual []float64
	for u := r.first; u < float64(from+len(line)); u += r.step {
		z := c.wave.demodulate(line, from, u, width)
		r.z = append(r.z, z)
		if u > 0 && u < length {
			usual = append(usual, cmplx.Abs(z))
		}
	}
	r.least = phaseFade * median(usual)
	return r
}

func (r stretches) place(k int) float64 { return r.first + float64(k)*r.step }

// walk fills in the phases, in graduations and without jumps of whole ones, from the start in the direction of sign until the comb ends.
func (r stretches) walk(phases map[int]float64, sign int, jump float64) {
	last, missed := cmplx.Phase(r.z[r.start])/(2*math.Pi), 0
	for k := r.start; k >= 0 && k < len(r.z) && missed < phaseGap; k += sign {
		ph := cmplx.Phase(r.z[k]) / (2 * math.Pi)
		ph += math.Round(last - ph)
		if cmplx.Abs(r.z[k]) < r.least || math.Abs(ph-last) > jump || !r.wave.sane(r.place(k)) {
			missed++
			continue
		}
		phases[k], last, missed = ph, ph, 0
	}
}

// amid tells whether place k and those whose stretches overlap its own have a phase: what lies beyond the rule's end or covers it, and
// the picture's border, pull the phases beside them.
func amid(phases map[int]float64, k int) bool {
	for j := k - phaseClear; j <= k+phaseClear; j++ {
		if _, ok := phases[j]; !ok {
			return false
		}
	}
	return true
}

// sane tells whether u is far from where perspective would make the wave's frequency infinite.
func (w wave) sane(u float64) bool { return w.alpha > 0 && w.alpha+w.beta*u > 0.3*w.alpha }

// demodulate is a line's amplitude and its phase against the wave around u, under a Gaussian; dark lines are at whole counts.
func (w wave) demodulate(line []float64, from int, u, width float64) complex128 {
	var sum complex128
	weight := 0.0
	for i := max(int(u-3*width)-from, 0); i <= min(int(u+3*width)-from, len(line)-1); i++ {
		x := float64(from + i)
		g := math.Exp(-(x - u) * (x - u) / (2 * width * width))
		sum -= complex(g*line[i], 0) * cmplx.Rect(1, -2*math.Pi*w.count(x))
		weight += g
	}
	return sum / complex(weight, 0)
}
