package vision

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// How the strips are laid.
const (
	roughColumns = 900  // columns of the strip on which the piece is first traced
	fineColumns  = 2000 // at most, on which it is traced before measuring: full size up to 2000 px
	padShare     = 0.05 // of the length, beyond each end
	rounds       = 3    // traces with colours learned from the trace before
)

// follow traces the piece on coarse strips about a rough axis, learning its colours and straightening
// the axis as it goes, and returns the silhouette on a fine strip.
func (d *finder) follow(cand candidate, hinted bool) (silhouette, error) {
	f, half := cand.frame, cand.half
	var o silhouette
	var table classifier
	contrast := 2 * cand.ground.limit()
	for round := range rounds {
		step := math.Max(1, f.L/roughColumns)
		reach := 1.35*half + 16*step
		if cand.byHue && round == 0 {
			reach = hueReach * half
		}
		s := newStrip(d.rough, d.c, f, step, padShare*f.L+8*step, reach)
		if cand.byHue {
			s = s.hued(d.rough.light, hueWindow)
		}
		var q labels
		switch {
		case round > 0:
			q = table.label(s)
		case cand.byHue:
			q = cand.firstHueLabels(s)
		default:
			q = cand.firstLabels(s, d.small)
		}
		q.cutBeyond(s)
		m := newMirrorSearch(s, q, contrast)
		m.closed = cand.byHue
		if hinted {
			m.bound(f)
		}
		var p mirrorPath
		o, p = trace(s, q, m)
		if p.To <= p.From || float64(o.To-o.From)*step < leastFound*cand.frame.L {
			return o, noMirror(hinted)
		}
		contrast = o.contrast()
		table = o.learn()
		half = o.half()
		f = o.straighten(f, hinted)
	}
	if hinted && f.strays(cand.frame) {
		return o, noMirror(hinted)
	}
	if err := d.wait(); err != nil {
		return o, err
	}
	torn := o.Torn
	if cand.byHue {
		o = o.refineHue(d.r, d.c, f, half)
	} else {
		o = o.refineOn(d.r, d.c, table, contrast, f, half)
	}
	o.Torn = o.Torn || torn
	return o, nil
}

// leastFound is the share of the length looked for that the silhouette must span.
const leastFound = 0.8

// noMirror is the error of a search without a result.
func noMirror(hinted bool) error {
	advice := "give its two ends with --axis"
	if hinted {
		advice = "check the two ends given"
	}
	return fmt.Errorf("%w: no two edges were found that mirror each other from end to end; %s, or photograph it on a plainer ground", ErrUnsure, advice)
}

// hintSlack is how far (px) what is found may lie from the ends the user pointed at: they are good to
// about 10 px, and the silhouette overhangs the middle of an end face.
func hintSlack(length float64) float64 { return math.Max(25, 0.03*length) }

// strays reports whether f leaves the axis that the user gave.
func (f frame) strays(hint frame) bool {
	_, a := f.of(hint.O)
	_, b := f.of(hint.at(hint.L, 0))
	return math.Max(math.Abs(a), math.Abs(b)) > hintSlack(hint.L)
}

// near reports whether the two ends of f lie within reach (px) of those of g.
func (f frame) near(g frame, reach float64) bool {
	return r2.Norm(r2.Sub(f.O, g.O)) < reach && r2.Norm(r2.Sub(f.at(f.L, 0), g.at(g.L, 0))) < reach
}

// meets reports whether the outline ends where the user pointed.
func meets(o *view.Outline, hint frame) bool {
	return newFrame(o.Axis[0], o.Axis[1]).near(hint, math.Sqrt2*hintSlack(hint.L))
}

// bound lets the piece begin and end near the two ends that the user pointed at.
func (m *mirrorSearch) bound(f frame) {
	slack := hintSlack(f.L)
	col := func(x float64) int {
		return min(max(int((x-m.s.x0)/m.s.step), 0), m.s.nx-1)
	}
	m.first = [2]int{col(-slack), col(slack)}
	m.last = [2]int{col(f.L - slack), col(f.L + slack)}
}

// learn builds the classifier of piece and ground from the silhouette.
func (o *silhouette) learn() classifier {
	in, near := o.spans(1), o.spans(-3)
	inside := func(i, j int) bool { return in[i].holds(j) }
	outside := func(i, j int) bool { return !near[i].holds(j) }
	return learn(o.s, inside, outside)
}

// straighten lays the frame on the middle line; its ends stay where the user pointed, or move to
// the ends of the silhouette.
func (o *silhouette) straighten(f frame, hinted bool) frame {
	a, m := o.middleLine()
	x0, x1 := o.s.station(float64(o.From)), o.s.station(float64(o.To))
	if hinted {
		x0, x1 = 0, f.L
	}
	return f.shifted(a, m, x0, x1)
}

// refineOn traces the sides once more on a strip at about full size, along the silhouette found.
func (o *silhouette) refineOn(r *raster, c *cover, table classifier, contrast float64, f frame, half float64) silhouette {
	s, middle, expect := o.along(r, c, f, half)
	return freeSides(s, table.label(s), s.rises(contrast), middle, expect)
}

// along lays a strip at about full size along f, and gives by its columns the row of the silhouette's
// middle and its half-width, in samples.
func (o *silhouette) along(r *raster, c *cover, f frame, half float64) (s *strip, middle, expect []float64) {
	step := math.Max(1, f.L/fineColumns)
	s = newStrip(r, c, f, step, padShare*f.L/2+8*step, half+16*step)
	middle, expect = make([]float64, s.nx), make([]float64, s.nx)
	for i := range middle {
		x, y0 := o.s.f.of(f.at(s.station(float64(i)), 0))
		k := int(math.Round((x - o.s.x0) / o.s.step))
		in := k >= o.From && k <= o.To
		k = min(max(k, o.From), o.To)
		j := o.Middle[k] + float64(o.Reach[1][k]-o.Reach[0][k])/2
		middle[i] = float64(s.mid) - (o.s.offset(j)-y0)/s.step
		if in {
			expect[i] = float64(o.width(k)) / 2 * o.s.step / s.step
		}
	}
	smooth(middle, int(40/step))
	return s, middle, expect
}

// smooth takes a running mean over 2n+1 values in place, shorter near the ends.
func smooth(v []float64, n int) {
	sum := make([]float64, len(v)+1)
	for i, x := range v {
		sum[i+1] = sum[i] + x
	}
	for i := range v {
		k := min(n, i, len(v)-1-i)
		v[i] = (sum[i+k+1] - sum[i-k]) / float64(2*k+1)
	}
}

// The least a traced silhouette must show to be measured.
const (
	leastContrast = 8.0 // tones between piece and ground: shadows on an even ground reach that
)

// plausible checks that what was traced differs from what surrounds it.
func (o *silhouette) plausible() error {
	if o.Torn {
		return fmt.Errorf("%w: what was found of it falls apart, a part of it looks just like the ground or its shadow; use a ground of another colour, or softer light", ErrUnsure)
	}
	if c := o.contrast(); c < leastContrast {
		return fmt.Errorf("%w: it differs from it by only %.0f of 255 tones; use a ground of another colour, or softer light", ErrUnsure, c)
	}
	return nil
}
