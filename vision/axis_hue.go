package vision

import (
	"math"
	"slices"
)

// The stretch along the axis (px) whose light is taken together before its hue is read: in a dark picture
// the hue of a single pixel is noise. To find the piece it is long, to follow its corners short.
const (
	hueWindow = 24.0
	hueShort  = 2.0
)

// hued is the strip of the hues, smoothed along the axis.
func (s *strip) hued(table []float32, window float64) *strip {
	out := *s
	out.pix = make([]colour, len(s.pix))
	reach := max(1, int(window/2/s.step))
	parallel(s.ny, func(j int) {
		sums := make([][4]float64, s.nx+1) // of the three channels and of the samples seen
		for i := range s.nx {
			k := j*s.nx + i
			sums[i+1] = sums[i]
			if s.ok[k] {
				for h, v := range s.pix[k] {
					sums[i+1][h] += float64(lightOf(table, v))
				}
				sums[i+1][3]++
			}
		}
		for i := range s.nx {
			a, b := &sums[max(0, i-reach)], &sums[min(s.nx, i+reach+1)]
			if n := b[3] - a[3]; n > 0 {
				out.pix[j*s.nx+i] = hueOf((b[0]-a[0])/n, (b[1]-a[1])/n, (b[2]-a[2])/n)
			}
		}
	})
	return &out
}

// Where hues are learned from a first find that may be but the lit part of the piece, in its half-widths from its middle.
const (
	hueInside  = 0.8
	hueOutside = 2.5 // a piece lit from the side shows no less than a third of its width
	hueReach   = 5.0
)

// firstHueLabels learns the hues of the lit part of the piece and of what lies well away from it.
func (cand *candidate) firstHueLabels(s *strip) labels {
	off := func(j int) float64 { return math.Abs(s.offset(float64(j))) / cand.half }
	on := func(i int) bool { x := s.station(float64(i)); return x > 0 && x < cand.frame.L }
	inside := func(i, j int) bool { return on(i) && off(j) < hueInside }
	outside := func(i, j int) bool { return off(j) > hueOutside }
	pure := *s // the flank in shadow is of the lit part's hue, but not as bright
	pure.pix = make([]colour, len(s.pix))
	for k, c := range s.pix {
		pure.pix[k] = c.pure()
	}
	return learn(&pure, inside, outside).label(&pure)
}

// hueSlack is how far (px) an edge may lie off the one that the hues gave on a coarse strip.
const hueSlack = 6.0

// corridor is where, by columns, the edge must lie, in samples from the middle outward.
type corridor struct{ expect, lo, hi []float64 }

// newCorridor lays the corridor about the half-widths that the hues gave.
func newCorridor(s *strip, expect []float64) corridor {
	k := corridor{expect, make([]float64, len(expect)), make([]float64, len(expect))}
	reach := int(math.Ceil(hueWindow / 2 / s.step))
	for i := range expect {
		near := expect[max(0, i-reach):min(len(expect), i+reach+1)]
		k.lo[i], k.hi[i] = slices.Min(near)-hueSlack/s.step, slices.Max(near)+hueSlack/s.step
		if slices.Max(near) == 0 {
			k.hi[i] = -1
		}
	}
	return k
}

// bound labels what lies on side side of the strip within the corridor as piece and beyond it as ground.
func (k *corridor) bound(s *strip, q labels, side int, middle []float64) {
	for i := range k.lo {
		start := int(math.Round(middle[i]))
		for t := 0; ; t++ {
			j := start + (2*side-1)*t
			if j < 0 || j >= s.ny {
				break
			}
			switch at := &q[j*s.nx+i]; {
			case float64(t) < k.lo[i]:
				*at = 1
			case float64(t) > k.hi[i]:
				*at = -1
			}
		}
	}
}

// refineHue traces the sides by hue on a strip at about full size, along the silhouette found. The darker
// flank lies in shadow, and is laid where the other mirrors to.
func (o *silhouette) refineHue(r *raster, c *cover, f frame, half float64) silhouette {
	s, middle, expect := o.along(r, c, f, half)
	hues := s.hued(r.light, hueShort)
	out := silhouette{s: s, Middle: middle}
	walk := newCorridor(s, expect)
	var light [2]float64
	parallel(2, func(k int) {
		b := beside{s, k, middle, expect}
		q := b.learn(hues).label(hues)
		for i, v := range b.learn(s).label(s) {
			q[i] = (q[i] + v) / 2
		}
		walk.bound(s, q, k, middle)
		out.Reach[k] = sidePath(hues, q, hues.rises(b.contrast(hues)), 2*k-1, middle, expect)
		light[k] = b.light()
	})
	dark := 0
	if light[1] < light[0] {
		dark = 1
	}
	fillNotches(out.Reach[1-dark])
	out.Reach[dark] = append([]int(nil), out.Reach[1-dark]...)
	out.dropUnlike(hues, beside{s, dark, middle, expect})
	out.Shadow = 1 + dark
	out.trim()
	return out
}

// likeRun is how many columns in a row must look like the piece for it to have begun.
const likeRun = 6

// dropUnlike takes off the ends of both sides where the hue is more like the ground's beside b than the piece's: dark
// shadows beyond an end may go on like it.
func (o *silhouette) dropUnlike(hues *strip, b beside) {
	piece, ground := b.medians(hues)
	like := func(i int) bool {
		var mean colour
		n := float32(0)
		for t := o.Reach[b.side][i] / 3; t <= o.Reach[b.side][i]; t++ { // the flank in shadow: gloss hides the hue of the other
			if j := int(math.Round(o.Middle[i])) + (2*b.side-1)*t; j >= 0 && j < o.s.ny && o.s.ok[j*o.s.nx+i] {
				c := hues.pix[j*o.s.nx+i]
				mean, n = colour{mean[0] + c[0], 0, mean[2] + c[2]}, n+1
			}
		}
		mean = colour{mean[0] / max(n, 1), 0, mean[2] / max(n, 1)}.pure()
		return dist(mean, piece.pure()) < dist(mean, ground.pure())
	}
	drop := func(from, step int) {
		run := 0
		i := from
		for ; i >= 0 && i < o.s.nx && run < likeRun; i += step {
			run++
			if o.Reach[0][i] == 0 || !like(i) {
				run = 0
			}
		}
		for i -= run * step; i >= 0 && i < o.s.nx && i != from-step; i -= step {
			o.Reach[0][i], o.Reach[1][i] = 0, 0
		}
	}
	drop(0, 1)
	drop(o.s.nx-1, -1)
}

// steepest is the steepest wall of a groove, rise over run: narrower and deeper ones are no grooves, but the
// shadow of a bead on what lies beside it.
const steepest = 3

// fillNotches fills what is steeper on both sides than any groove.
func fillNotches(reach []int) {
	n := len(reach)
	left, right := slices.Clone(reach), slices.Clone(reach)
	for i := 1; i < n; i++ {
		left[i] = max(left[i], left[i-1]-steepest)
		right[n-1-i] = max(right[n-1-i], right[n-i]-steepest)
	}
	for i := range reach {
		reach[i] = min(left[i], right[i])
	}
}

// beside is one side of the silhouette expected: its columns' middles and half-widths, in samples.
type beside struct {
	s              *strip
	side           int
	middle, expect []float64
}

// each calls do for the samples that certainly are piece and ground, a little clear of the edge expected.
func (b *beside) each(do func(at int, inside bool)) {
	clear := max(1, int(2/b.s.step))
	for i, w := range b.expect {
		if w <= 0 {
			continue
		}
		start, reach := int(math.Round(b.middle[i])), int(math.Round(w))
		for t := reach / 3; t < 2*reach+8*clear; t++ {
			j := start + (2*b.side-1)*t
			if j >= 0 && j < b.s.ny && b.s.ok[j*b.s.nx+i] && (t < reach-clear || t > reach+clear) {
				do(j*b.s.nx+i, t < reach)
			}
		}
	}
}

// learn builds the classifier of the colours of hues on this side.
func (b *beside) learn(hues *strip) classifier {
	piece, rest := newHistogram(), newHistogram()
	b.each(func(at int, inside bool) {
		if inside {
			piece.add(hues.pix[at])
		} else {
			rest.add(hues.pix[at])
		}
	})
	piece.smooth()
	rest.smooth()
	return compare(piece, rest)
}

// contrast is the distance of the median hues inside and outside.
func (b *beside) contrast(hues *strip) float64 {
	return dist(b.medians(hues))
}

// medians are the median hues inside and outside.
func (b *beside) medians(hues *strip) (piece, ground colour) {
	var in, out toneCount
	b.each(func(at int, inside bool) {
		if inside {
			in.add(hues.pix[at])
		} else {
			out.add(hues.pix[at])
		}
	})
	return in.median(), out.median()
}

// light is the mean tone of the flank.
func (b *beside) light() float64 {
	sum, n := 0.0, 0.0
	b.each(func(at int, inside bool) {
		if inside {
			for _, v := range b.s.pix[at] {
				sum, n = sum+float64(v), n+1
			}
		}
	})
	return sum / math.Max(n, 1)
}
