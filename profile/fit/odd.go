package fit

import (
	"math"

	"spindlestick/profile"
)

// Description lengths of shapes that no turner cuts, on top of what their numbers cost.
const (
	// oddity is that of a slope or hollow as short as a fillet, and of a narrow groove with upright faces.
	oddity = 12
	// sliverOddity is that of a shape under leastShape, which blur, rounding a rim, is likelier to have made.
	sliverOddity = 30
)

// implausible is what the links of f that no turner cuts add to its description.
func (f *fitted) implausible() float64 {
	sum := 0.0
	for k := range f.links {
		sum += f.odd(k)
	}
	return sum
}

// odd is what link k adds, 0 for most.
func (f *fitted) odd(k int) float64 {
	sh, isShoulder := f.ties.shoulder(k)
	switch {
	case isShoulder:
		return f.oddShoulder(sh)
	case f.vee(k) || k > 0 && f.vee(k-1):
		return 0
	case f.span(k) < leastShape:
		return sliverOddity
	case f.groove(k), f.leaning(k):
		return narrowGroove
	case !f.ties.level[k] && f.stub(k), f.limp(k), f.twice(k), f.faint(k), f.lopsided(k):
		return oddity
	}
	return f.unparted(k)
}

// narrowGroove is that of a narrow groove in a plain run that is no vee, where turners cut one, and of a step that is not
// upright (common practice, no source).
const narrowGroove = 18

// groove reports whether link k is all there is of a narrow groove between two straight runs of nearly one size.
func (f *fitted) groove(k int) bool {
	if !f.between(k, straight) || f.vee(k) || f.vee(k-1) {
		return false
	}
	a, b := f.joints[k].before, f.joints[k+1].after
	s := f.segment(k)
	low := math.Min(math.Min(s.R0, s.R1), s.At((s.X0+s.X1)/2))
	return math.Abs(a-b) < leastVee && low < math.Min(a, b)-leastStep && f.span(k) < veeWidth*math.Min(a, b)/2
}

// twice reports whether links k and k+1 are two fillets side by side: one would do.
func (f *fitted) twice(k int) bool {
	fillet := func(k int) bool {
		return f.ties.level[k] && !f.ties.square[k] && f.span(k) < filletLimit(2*f.joints[k].after)
	}
	return k+1 < len(f.links) && fillet(k) && fillet(k+1)
}

// between reports whether both neighbours of link k have a form.
func (c *chain) between(k int, form form) bool {
	return k > 0 && k+1 < len(c.links) && c.links[k-1].form == form && c.links[k+1].form == form
}

// limpHeight is the least height of a bead or cove, as a share of its chord, that is one on purpose: a short one that is flatter
// is a run that blur has bent.
const limpHeight = 0.06

// limp reports whether link k is a bead or cove too flat for its length, and not long enough for a swell.
func (f *fitted) limp(k int) bool {
	s := f.segment(k)
	return s.Sagitta != 0 && !f.links[k].bound() && s.X1-s.X0 < swellShare*(s.R0+s.R1) && math.Abs(s.Sagitta) < limpHeight*s.Chord() &&
		!(k+1 < len(f.links) && f.links[k+1].bound())
}

// faint reports whether link k is a taper too slight for its length: over less than a diameter nobody sees or turns one.
func (f *fitted) faint(k int) bool {
	s := f.segment(k)
	return s.Straight() && !f.ties.level[k] && math.Abs(chordAngle(s)) < nearlyLevel && s.X1-s.X0 < s.R0+s.R1
}

// lopsided reports whether link k is a bead whose ends differ in height by more than half of what it is high: where turners want that
// they cut half a bead, level at one end.
func (f *fitted) lopsided(k int) bool {
	s := f.segment(k)
	return s.Sagitta > 0 && f.links[k].form == free && f.arcShape(k) == whole && s.X1-s.X0 < swellShare*(s.R0+s.R1) && (math.Abs(s.R0-s.R1) > s.Sagitta/2 || f.afloat(k))
}

// afloat reports whether bead k ends high over a fillet beside it.
func (f *fitted) afloat(k int) bool {
	s := f.segment(k)
	return k > 0 && f.ties.level[k-1] && s.R0-f.joints[k].before > s.Sagitta/2 ||
		k+1 < len(f.links) && f.ties.level[k+1] && s.R1-f.joints[k+1].after > s.Sagitta/2
}

// leaning reports whether link k is the slanting face of a step: what stands upright, half out of sight, may look so.
func (f *fitted) leaning(k int) bool {
	s := f.segment(k)
	return s.Straight() && !f.ties.level[k] && s.X1-s.X0 < filletLimit(s.R0+s.R1) && math.Abs(s.R1-s.R0) > leaningSlope*(s.X1-s.X0)
}

// leaningSlope is 35 degrees: over any taper, and under what a step smears to.
const leaningSlope = 0.7

// unparted is what the joint after link k adds when a bead stands there without a fillet against another moulding.
func (f *fitted) unparted(k int) float64 {
	if k+1 >= len(f.links) || f.links[k+1].bound() {
		return 0
	}
	a, b := f.segment(k), f.segment(k+1)
	_, shoulder := f.ties.shoulder(k + 1)
	if shoulder || a.Straight() || b.Straight() || !f.bead(k) && !f.bead(k+1) {
		return 0
	}
	return unparted
}

// bead reports whether link k is a bead with its crest inside.
func (f *fitted) bead(k int) bool {
	return f.segment(k).Sagitta > 0 && f.arcShape(k) == whole && f.stout(k)
}

// unparted is what a shape adds that no fillet parts from the moulding beside it (common practice, no source).
const unparted = 18

// leastFall is how much lower than the flat a shoulder ends at least, as a share of half the side.
const leastFall = 0.03

// oddShoulder is what a shoulder adds that does not stand over a fillet.
func (f *fitted) oddShoulder(sh shoulder) float64 {
	m, far := 2*sh.link-sh.square, f.joints[sh.link]
	if sh.link > sh.square {
		far = f.joints[sh.link+1]
	}
	own, other := far.after, far.before
	if sh.link > sh.square {
		own, other = far.before, far.after
	}
	sum := 0.0
	if sh.style == profile.Straight {
		sum = styleMargin
	}
	switch {
	case m < 0 || m >= len(f.links):
	case own > f.joints[sh.square].after-leastStep:
		sum += sliverOddity
	case !f.ties.level[m]:
		sum += unparted
	case own < other-leastStep, own > f.joints[sh.square].after*(1-leastFall):
		sum += oddity
	}
	return sum
}
