package view

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"spindlestick/profile"
)

// ScaleFit is what known sizes say about a trace's scale.
type ScaleFit struct {
	K     float64 // all distances are to be multiplied by it
	Sigma float64 // standard deviation of K as a fraction
	// Residuals are readings minus the scaled trace, mm: of the diameters in order, then of the length if it is known.
	Residuals []float64
	Notes     []string
	others    []candidate // scales that fit alike
}

const (
	// caliperSigma is the standard deviation of a caliper reading on old wood, mm: a 0.05 mm vernier (limit of
	// error 0.05 mm, DIN 862) and as much for wood out of round.
	caliperSigma = 0.05
	// stationSigma is that of the station where it was taken, mm, by tape or rule (common practice, no source).
	stationSigma = 0.5
	// lengthSigma is that of an overall length by tape, mm: class II is good to 0.5 mm under a metre.
	lengthSigma = 0.3
	// jaw is half of what a caliper's jaw covers, mm: it reads the crest or bottom within it.
	jaw = 1.0
	// prominence is how far the radius must bend under half a jaw to be a crest or bottom and not noise, mm: a
	// bead of 10 mm radius does, and the crest of a larger one hardly depends on where it is met.
	prominence = 0.05
	// scaleReach is how far known sizes may correct a scale that the picture shows.
	scaleReach = 1.25
	// scaleSteps divide the range of scales: with a range of 1:30 a step is 0.1 %, half of what one caliper
	// reading on a 25 mm bead resolves.
	scaleSteps = 3500
	// distinct is how far two scales differ before they are two answers and not one, as a fraction.
	distinct = 0.02
	// alike is how much worse than the best (in chi-square) a scale may fit and still be considered.
	alike = 4
)

// ErrKnown is wrapped by the errors of known sizes that cannot be found on the piece.
var ErrKnown = errors.New("view: the known sizes do not fit the outline")

// FitScale finds the factor that makes a trace agree with known diameters and a known overall length (mm, 0 =
// unknown), to whose own uncertainty that of the trace's length adds. prior is the standard deviation of the trace's own scale as a fraction, which then counts as one more
// reading; 0 = its scale means nothing. The stations scale with the trace, so a single reading may fit at several
// scales: the one taken where the diameter is steadiest is chosen, since that is where calipers are put.
func FitScale(t profile.Trace, known []KnownDiameter, length, prior float64) (ScaleFit, error) {
	s := sizes{trace: t, known: known, length: length, prior: prior}
	if err := s.check(); err != nil {
		return ScaleFit{}, fmt.Errorf("%w: %w", ErrKnown, err)
	}
	found, err := s.scales()
	if err != nil {
		return ScaleFit{}, fmt.Errorf("%w: %w", ErrKnown, err)
	}
	against := ""
	if prior > 0 {
		alone, sd := s.alone(found[0])
		against = fmt.Sprintf("The known sizes make the piece %+.2f %% against the scale in the picture; their weighted mean is used.", 100*alone)
		if math.Abs(alone) > contradiction*sd {
			// Pages printed to fit and boards at another height are off by far more than their standard deviation.
			against = fmt.Sprintf("The known sizes make the piece %+.2f %% against the scale in the picture, more than either should be off, and are believed: check the size of the squares or graduations, the height of the axis, and the readings.", 100*alone)
			s.prior = math.Abs(alone)
			if found, err = s.scales(); err != nil {
				return ScaleFit{}, fmt.Errorf("%w: %w", ErrKnown, err)
			}
		}
	}
	fit := ScaleFit{K: found[0].k, Sigma: found[0].sigma}
	for _, r := range s.readings(fit.K) {
		fit.Residuals = append(fit.Residuals, r.off)
	}
	fit.others = found[1:]
	fit.Notes = append(fit.other(), s.scaled(fit.K).misses()...)
	if against != "" {
		fit.Notes = append(fit.Notes, against)
	}
	return fit, nil
}

// scales returns the scales that fit alike, the surest first; at least one.
func (s sizes) scales() ([]candidate, error) {
	lo, hi := s.reach()
	if !(lo < hi) {
		return nil, errors.New("no scale puts every station and diameter on the piece: check them")
	}
	found := s.candidates(lo, hi)
	if len(found) == 0 {
		return nil, errors.New("no scale brings the diameters to their stations: check them")
	}
	return found, nil
}

// alone is how far the known sizes by themselves are from the picture's own scale, as a logarithm, and the standard
// deviation of that difference.
func (s sizes) alone(c candidate) (off, sd float64) {
	post, prior := c.sigma*c.sigma, s.prior*s.prior
	return math.Log(c.k) * prior / (prior - post), math.Sqrt(post*prior/(prior-post) + prior)
}

// sizes is a trace of unknown or doubtful scale and what is known of the piece.
type sizes struct {
	trace  profile.Trace
	known  []KnownDiameter
	length float64
	prior  float64
}

// reading is one known size at a scale: reading minus scaled trace, its standard deviation, and how fast the
// scaled trace grows with the logarithm of the scale; all mm.
type reading struct{ off, sigma, gain float64 }

func (s sizes) check() error {
	n := len(s.trace.Samples)
	switch {
	case n < 2 || !(s.trace.Length > 0):
		return errors.New("there is no trace yet")
	case len(s.known) == 0 && s.length == 0:
		return errors.New("no size is known: give a diameter at a station, or the overall length")
	case s.length < 0 || math.IsNaN(s.length-s.length):
		return fmt.Errorf("the overall length is %g mm", s.length)
	}
	for _, r := range s.known {
		if !(r.D > 0) || !(r.X >= 0) || math.IsInf(r.D, 0) || math.IsInf(r.X, 0) {
			return fmt.Errorf("a diameter of %g mm at %g mm", r.D, r.X)
		}
	}
	return nil
}

// reach returns the scales worth looking at.
func (s sizes) reach() (lo, hi float64) {
	lo, hi = 0, math.Inf(1)
	narrow := func(centre float64) {
		lo, hi = math.Max(lo, centre/scaleReach), math.Min(hi, centre*scaleReach)
	}
	if s.prior > 0 {
		narrow(1)
	}
	if s.length > 0 {
		narrow(s.length / s.trace.Length)
	}
	for _, r := range s.known {
		lo = math.Max(lo, r.X/s.trace.Length)
	}
	if lo > 0 && hi < math.Inf(1) {
		return lo, hi
	}
	// A reading at x = 0 puts no floor under the scale: the piece's largest diameter does.
	least, most := s.diameters()
	for _, r := range s.known {
		lo, hi = math.Max(lo, 0.99*r.D/most), math.Min(hi, 1.01*r.D/least)
	}
	return lo, hi
}

// diameters returns the least and the largest diameter of the trace, leaving out points (a finial's tip).
func (s sizes) diameters() (least, most float64) {
	for _, p := range s.trace.Samples {
		most = math.Max(most, 2*p.R)
	}
	least = most
	for _, p := range s.trace.Samples {
		// Nobody puts a caliper on a twentieth of the largest diameter to scale a picture by it.
		if d := 2 * p.R; d > most/20 {
			least = math.Min(least, d)
		}
	}
	return least, most
}

// candidate is a scale at which the known sizes fit best among its neighbours.
type candidate struct{ k, cost, sigma float64 }

// candidates returns the scales within [lo, hi] that fit alike, the surest first.
func (s sizes) candidates(lo, hi float64) []candidate {
	at := func(i int) float64 { return lo * math.Pow(hi/lo, float64(i)/scaleSteps) }
	cost := make([]float64, scaleSteps+3) // +Inf beyond both ends
	cost[0], cost[scaleSteps+2] = math.Inf(1), math.Inf(1)
	for i := range scaleSteps + 1 {
		cost[i+1] = s.cost(at(i))
	}
	var found []candidate
	for i := range scaleSteps + 1 {
		before, here, after := cost[i], cost[i+1], cost[i+2]
		if here > before || here > after || math.IsInf(here, 1) {
			continue
		}
		k := s.descend(at(max(i-1, 0)), at(min(i+1, scaleSteps)))
		if c := (candidate{k, s.cost(k), s.sigma(k)}); !math.IsInf(c.cost, 1) {
			found = append(found, c)
		}
	}
	return sift(found)
}

// sift keeps the candidates that fit alike, one of every crowd (a trace's noise splits one valley into several):
// the best fit among its surest. The surest come first.
func sift(found []candidate) []candidate {
	least := math.Inf(1)
	for _, c := range found {
		least = math.Min(least, c.cost)
	}
	found = slices.DeleteFunc(found, func(c candidate) bool { return c.cost > least+alike })
	slices.SortFunc(found, func(a, b candidate) int { return cmp.Compare(a.sigma, b.sigma) })
	var kept []candidate
	for i, c := range found {
		if slices.ContainsFunc(kept, c.near) {
			continue
		}
		for _, o := range found[i:] {
			if o.near(c) && o.sigma < 1.1*c.sigma && o.cost < c.cost {
				c = o
			}
		}
		kept = append(kept, c)
	}
	return kept
}

// near reports whether two candidates are one answer.
func (c candidate) near(o candidate) bool { return math.Abs(c.k/o.k-1) < distinct }

// descend finds the least cost within [lo, hi] by golden section.
func (s sizes) descend(lo, hi float64) float64 {
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	ca, cb := s.cost(a), s.cost(b)
	for range 40 { // 0.618^40 of a 0.2 % bracket: to the last bits that a cost can tell
		if ca <= cb {
			hi, b, cb = b, a, ca
			a = hi - golden*(hi-lo)
			ca = s.cost(a)
		} else {
			lo, a, ca = a, b, cb
			b = lo + golden*(hi-lo)
			cb = s.cost(b)
		}
	}
	return (lo + hi) / 2
}

// cost is the chi-square of the readings at scale k; +Inf where a station falls off the piece.
func (s sizes) cost(k float64) float64 {
	rs := s.readings(k)
	if rs == nil {
		return math.Inf(1)
	}
	sum := 0.0
	if s.prior > 0 {
		sum = math.Pow(math.Log(k)/s.prior, 2)
	}
	for _, r := range rs {
		sum += math.Pow(r.off/r.sigma, 2)
	}
	return sum
}

// sigma is the standard deviation of the scale at k, as a fraction.
func (s sizes) sigma(k float64) float64 {
	sum := 0.0
	if s.prior > 0 {
		sum = 1 / (s.prior * s.prior)
	}
	for _, r := range s.readings(k) {
		sum += math.Pow(r.gain/r.sigma, 2)
	}
	return 1 / math.Sqrt(sum)
}
