package vision

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

const (
	// spectrumWindow is the longest window in px: over it the graduations of a tilted rule change their distance little.
	spectrumWindow = 256
	// spectrumLeast is the shortest.
	spectrumLeast = 16
	// spectrumPad is how many times longer the transform is: peaks are then wide enough for a parabola.
	spectrumPad = 8
	// spectrumCycles is the least number of graduations in a window that makes a comb.
	spectrumCycles = 4
	// spectrumTop is the highest frequency in cycles a px: above, lines are lost in the sampling.
	spectrumTop = 0.46
	// combPurity is the least part of a window's power that a comb's main frequency holds. A comb of thin lines has 0.3 and more
	// (the rest are its harmonics), noise under 0.15.
	combPurity = 0.2
)

// tone is the strongest frequency of a window.
type tone struct {
	at        float64 // the window's middle, px along the line
	frequency float64 // cycles a px
	amplitude float64 // levels
	purity    float64 // part of the power
}

// spectrum finds tones in windows of n samples.
type spectrum struct {
	n      int
	hann   []float64
	fft    *fourier.FFT
	padded []float64
	coeff  []complex128
}

// newSpectrum makes one for windows that fit into length px.
func newSpectrum(length float64) *spectrum {
	n := spectrumWindow
	for n > spectrumLeast && float64(n) > length {
		n /= 2
	}
	s := &spectrum{n: n, hann: make([]float64, n), fft: fourier.NewFFT(n * spectrumPad), padded: make([]float64, n*spectrumPad)}
	for i := range s.hann {
		s.hann[i] = 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n))
	}
	return s
}

// tones returns the tone of each window of line from sample lo on, a step apart, that ends before sample hi. at counts samples.
func (s *spectrum) tones(line []float64, lo, hi, step int) []tone {
	var out []tone
	for i := max(lo, 0); i+s.n <= min(hi, len(line)); i += step {
		t := s.tone(line[i : i+s.n])
		t.at = float64(i) + float64(s.n-1)/2
		out = append(out, t)
	}
	return out
}

func (s *spectrum) tone(x []float64) tone {
	for i, v := range x {
		s.padded[i] = v * s.hann[i]
	}
	s.coeff = s.fft.Coefficients(s.coeff, s.padded)
	lo, hi := spectrumCycles*spectrumPad, int(spectrumTop*float64(s.n*spectrumPad))
	power := func(k int) float64 { m := cmplx.Abs(s.coeff[k]); return m * m }
	best, total := lo, 0.0
	for k := lo; k <= hi; k++ {
		total += power(k)
		if power(k) > power(best) {
			best = k
		}
	}
	if total == 0 || best == lo || best == hi {
		return tone{}
	}
	lobe := 0.0
	for k := max(lo, best-2*spectrumPad); k <= min(hi, best+2*spectrumPad); k++ {
		lobe += power(k)
	}
	a, b, c := math.Log(power(best-1)), math.Log(power(best)), math.Log(power(best+1))
	shift := 0.0
	if d := a - 2*b + c; d < 0 {
		shift = 0.5 * (a - c) / d
	}
	return tone{
		frequency: (float64(best) + shift) / float64(s.n*spectrumPad),
		amplitude: 4 * math.Sqrt(power(best)) / float64(s.n),
		purity:    lobe / total,
	}
}

// highPass takes away what is slower than a window of n samples shows.
func highPass(line []float64, n int) []float64 {
	half := n / (2 * spectrumCycles)
	sums := make([]float64, len(line)+1)
	for i, v := range line {
		sums[i+1] = sums[i] + v
	}
	out := make([]float64, len(line))
	for i, v := range line {
		lo, hi := max(i-half, 0), min(i+half+1, len(line))
		out[i] = v - (sums[hi]-sums[lo])/float64(hi-lo)
	}
	return out
}

// median of values, 0 if there are none; it sorts them.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	return v[len(v)/2]
}
