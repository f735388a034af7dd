package join

import (
	"fmt"
	"math"

	"spindlestick/profile"
)

// Options say what is known of the overlap. The zero value works.
type Options struct {
	// Overlap is about how much neighbouring shots have in common, mm; 0 = found from the shapes.
	Overlap float64
}

// Seam is where one shot continues another.
type Seam struct {
	Names  [2]string // of the shots before and after
	Shift  float64   // station x of the later shot is station x + Shift of the piece, mm
	UShift float64   // its expanded uncertainty (k = 2), mm
	From   float64   // the overlap, in stations of the piece, mm
	To     float64
	At     float64 // where the later shot takes over
	RMS    float64 // of the difference of diameters over the overlap, mm
	// Parts are the stretches where the shots differ by more than their uncertainty.
	Parts []Part
}

// Part is a stretch over which two shots do not agree.
type Part struct {
	X0, X1     float64 // stations of the piece, mm
	Difference float64 // of the diameters, later - earlier, where it is largest, mm
	U          float64 // its expanded uncertainty, mm
}

const (
	// leastOverlap is the shortest overlap looked for, mm: about a bead with what stands beside it.
	leastOverlap = 25.0
	// step is the spacing at which shots are compared, mm.
	step = 0.25
	// sameShot stands for uncertainties between two photographs that theirs do not say: 0.1 mm of diameter for the
	// piece laid down anew, and 0.1 mm along the axis on sloping parts; assumed.
	sameShot = 0.1
	// farOff is the normalised difference past which a place counts as not fitting, however far it is off.
	farOff = 3.0
	// apart is how far two shifts differ that are not the same answer, mm: about the width of a fillet.
	apart = 3.0
	// clear is how much better the best shift must be than any other. One unit is what a wholly unlike place costs;
	// 5 mm of profile that fit at one shift alone decide.
	clear = 5 / step
	// hintReach is how far a stated overlap may be off, mm.
	hintReach = 15.0
	// mostOff is the share of the overlap that may differ.
	mostOff = 0.25
)

// look is one place of an overlap.
type look struct {
	x    float64 // station of the piece
	d    float64 // later - earlier diameter
	u    float64 // expanded
	seen bool
}

// find returns where the later shot continues the earlier: the shift at which most of the overlap fits, and the best
// other answer where it is hardly worse. A taper alone fits anywhere, and says nothing.
func find(a, b Shot, opt Options) (at float64, other *float64, err error) {
	lo, hi := 0.0, a.Trace.Length-leastOverlap
	if opt.Overlap > 0 {
		lo = math.Max(lo, a.Trace.Length-opt.Overlap-hintReach)
		hi = math.Min(hi, a.Trace.Length-opt.Overlap+hintReach)
	}
	if hi < lo || b.Trace.Length < leastOverlap {
		return 0, nil, fmt.Errorf("join: %w: %s and %s are too short to share %.0f mm", ErrShots, a.Name, b.Name, math.Max(opt.Overlap, leastOverlap))
	}
	gains := make([]float64, int((hi-lo)/step)+1)
	best := 0
	for i := range gains {
		gains[i] = gain(compare(a, b, lo+float64(i)*step))
		if gains[i] > gains[best] {
			best = i
		}
	}
	if r, ok := rival(gains, best); ok && gains[best]-gains[r] < clear {
		x := lo + float64(r)*step
		other = &x
	}
	return lo + float64(best)*step, other, nil
}

// rival returns the best of the shifts that are another answer than best.
func rival(gains []float64, best int) (int, bool) {
	at := -1
	for i, g := range gains {
		if math.Abs(float64(i-best))*step >= apart && (at < 0 || g > gains[at]) {
			at = i
		}
	}
	return at, at >= 0
}

// gain is how much of an overlap fits: a place that fits counts up to 1, one that is far off up to -1.
func gain(ls []look) float64 {
	sum := 0.0
	for _, l := range ls {
		if l.seen {
			z := math.Min(farOff, math.Abs(l.d)/(l.u/2))
			sum += 1 - 2*z*z/(farOff*farOff)
		}
	}
	return sum
}

// compare lays the later shot on the earlier and looks at every place that both show.
func compare(a, b Shot, shift float64) []look {
	alo, ahi := a.span()
	blo, bhi := b.span()
	from, to := math.Max(alo, blo+shift), math.Min(ahi, bhi+shift)
	var out []look
	for x := math.Ceil(from/step) * step; x <= to; x += step {
		p, okP := a.Trace.At(x)
		q, okQ := b.Trace.At(x - shift)
		if !okP || !okQ {
			continue
		}
		slope := math.Max(steepness(a.Trace, x), steepness(b.Trace, x-shift))
		u := math.Sqrt(p.U*p.U + q.U*q.U + sameShot*sameShot*(1+4*slope*slope))
		out = append(out, look{x, 2 * (q.R - p.R), u, p.State == profile.Visible && q.State == profile.Visible})
	}
	return out
}

// steepness is the change of radius with the station about x.
func steepness(t profile.Trace, x float64) float64 {
	const half = 0.5
	p, ok := t.At(x - half)
	q, ok2 := t.At(x + half)
	if !ok || !ok2 {
		return 0
	}
	return math.Abs(q.R-p.R) / (2 * half)
}

// settle refines a shift by the parabola of the squared differences beside it, and says how well they place it: the
// shift at which the sum of squares (of normalised differences, two samples a millimetre taken as independent) has
// grown by 4 lies two standard deviations off.
func settle(a, b Shot, at float64) (shift, u float64) {
	const independent = 2 * step
	misfit := func(s float64) float64 {
		sum := 0.0
		for _, l := range compare(a, b, s) {
			if l.seen {
				z := math.Min(farOff, math.Abs(l.d)/(l.u/2))
				sum += z * z
			}
		}
		return sum * independent
	}
	h := 2 * step
	l, m, r := misfit(at-h), misfit(at), misfit(at+h)
	bend := (l - 2*m + r) / (h * h)
	if bend <= 0 {
		return at, 2 * h
	}
	return at + math.Max(-h, math.Min(h, (l-r)/(2*h)/bend)), math.Sqrt(8 / bend)
}

// parts gathers neighbouring places that differ by more than their uncertainty.
func parts(ls []look) (out []Part, rms float64, off float64) {
	var sum float64
	n, bad := 0, 0
	open := false
	for _, l := range ls {
		if !l.seen {
			open = false
			continue
		}
		n++
		sum += l.d * l.d
		if math.Abs(l.d) <= l.u {
			open = false
			continue
		}
		bad++
		if !open {
			out = append(out, Part{X0: l.x, X1: l.x, Difference: l.d, U: l.u})
		}
		open = true
		p := &out[len(out)-1]
		p.X1 = l.x
		if math.Abs(l.d) > math.Abs(p.Difference) {
			p.Difference, p.U = l.d, l.u
		}
	}
	if n == 0 {
		return nil, 0, 1
	}
	return out, math.Sqrt(sum / float64(n)), float64(bad) / float64(n)
}
