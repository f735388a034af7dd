package fit

import (
	"errors"
	"fmt"
	"math"

	"spindlestick/profile"
	"spindlestick/profile/lsq"
)

// Hold says what a refit must not move, because the user set it.
type Hold struct {
	Stations []int           // edges, counted as MoveStation does
	Places   []profile.Place // diameters
}

// ErrRefit is wrapped by the errors of Refit.
var ErrRefit = errors.New("fit: nothing to fit again")

// refitIterations are enough for a few elements that start near.
const refitIterations = 15

// Refit fits elements from to to, and where they meet their neighbours, to the trace again; kinds stay. What stands
// beyond the neighbours stays as it is, as do squares and their shoulders, what hold names, and what ties hold equal moves
// together. It looks at the trace of these elements alone, so that it can follow the hand.
func Refit(p profile.Pattern, t profile.Trace, from, to int, hold Hold) (profile.Pattern, error) {
	if from < 0 || to >= len(p.Elements) || from > to {
		return p, fmt.Errorf("%w: elements %d to %d of %d", ErrRefit, from+1, to+1, len(p.Elements))
	}
	s, ok := newSection(p, from, to)
	if !ok {
		return p, fmt.Errorf("%w: squares and shoulders are not fitted again by themselves", ErrRefit)
	}
	x0, x1 := s.elements[0].X0, s.elements[len(s.elements)-1].X1
	pts := points(profile.Trace{Length: t.Length, Samples: samplesBetween(t, x0, x1)})
	if len(pts) < leastSamples {
		return p, fmt.Errorf("%w: the trace shows too little between %.1f and %.1f mm", ErrRefit, x0, x1)
	}
	if err := s.solve(pts, hold); err != nil {
		return p, err
	}
	q, err := s.put(p)
	if err != nil {
		return p, err
	}
	last := s.first + len(s.elements) - 1
	for i := s.first; i <= last; i++ {
		q.Elements[i].Residual = Residual(q.Elements[i], t)
	}
	return readBetween(q, t, s.first, last), nil
}

// section is a run of elements as a chain of links.
type section struct {
	first    int // its first element's number
	elements []profile.Element
	whole    bool // it ends with the piece, at this end
	wholeEnd bool
	links    []int // the first link of each element
	chain    chain
	ties     ties
}

// newSection takes elements from to to and their neighbours; squares and shoulders end it.
func newSection(p profile.Pattern, from, to int) (*section, bool) {
	fixed := func(i int) bool {
		k := p.Elements[i].Kind
		return k == profile.Square || k == profile.Shoulder
	}
	for from <= to && fixed(from) {
		from++
	}
	for to >= from && fixed(to) {
		to--
	}
	for i := from; i <= to; i++ {
		if fixed(i) {
			return nil, false
		}
	}
	if from > to {
		return nil, false
	}
	if from > 0 && !fixed(from-1) {
		from--
	}
	if to+1 < len(p.Elements) && !fixed(to+1) {
		to++
	}
	s := &section{first: from, elements: p.Elements[from : to+1], whole: from == 0, wholeEnd: to+1 == len(p.Elements)}
	s.build()
	return s, true
}

// sameRadius is how close two radii at a joint are to count as one, mm: as edits have it for diameters.
const sameRadius = 0.01

// build turns the elements into links and joints.
func (s *section) build() {
	c := &s.chain
	for i, e := range s.elements {
		s.links = append(s.links, len(c.links))
		segs := e.Segments()
		for k, g := range segs {
			j := joint{x: g.X0, before: g.R0, after: g.R0, lo: g.X0, hi: g.X0}
			if k == 0 && i > 0 {
				j.before = s.elements[i-1].D1 / 2
				if math.Abs(j.before-j.after) < sameRadius {
					j.before = j.after
				}
			}
			c.joints = append(c.joints, j)
			l := link{convex: g.Sagitta > 0, sagitta: g.Sagitta}
			switch {
			case k == 1 && e.Kind == profile.Ogee:
				l.form = follows
			case e.Kind.Curved() || e.Kind == profile.Ogee:
				l.form = free
			}
			c.links = append(c.links, l)
		}
	}
	last := s.elements[len(s.elements)-1]
	c.joints = append(c.joints, joint{x: last.X1, before: last.D1 / 2, after: last.D1 / 2, lo: last.X1, hi: last.X1})
	s.ties = noTies(c)
	for i, e := range s.elements {
		s.ties.level[s.links[i]] = e.Kind == profile.Fillet || e.Kind == profile.Cylinder
	}
}

// solve moves joints and heights until the points lie closest.
func (s *section) solve(pts []point, hold Hold) error {
	s.chain.claim(pts)
	tgt := newTarget(pts, &s.chain, noise(pts, leastNoise))
	w := &refinement{target: tgt, chain: s.chain.clone(), layout: newLayout(&s.chain, s.ties)}
	w.curves = make([]curve, len(s.chain.links))
	w.rises = make([]curve, len(s.chain.joints))
	start := w.layout.pack(&s.chain)
	lower, upper := s.bounds(&w.layout, start, hold)
	res, err := lsq.Solve(lsq.Problem{
		Start: start, Count: len(pts), Residuals: w.residuals, Jacobian: w.jacobian, Lower: lower, Upper: upper,
	}, lsq.Settings{Huber: huber, Iterations: refitIterations, Tolerance: 1e-4})
	if err != nil {
		return fmt.Errorf("fit: fit the elements again: %w", err)
	}
	w.layout.unpack(res.P, &s.chain)
	return nil
}

// leastBend keeps an arc on its own side of straight, as a share of its chord.
const leastBend = 0.002

// bounds pins what is held and keeps beads convex and coves hollow.
func (s *section) bounds(l *layout, start []float64, hold Hold) (lower, upper []float64) {
	lower, upper = make([]float64, len(start)), make([]float64, len(start))
	for i := range start {
		lower[i], upper[i] = math.Inf(-1), math.Inf(1)
	}
	pin := func(i int) {
		if i >= 0 {
			lower[i], upper[i] = start[i], start[i]
		}
	}
	last := len(s.chain.links)
	if !s.whole {
		pin(l.after[0])
	}
	if !s.wholeEnd {
		pin(l.before[last])
	}
	for k := range s.chain.links {
		if i := l.sagitta[k]; i >= 0 {
			least := leastBend * s.chain.segment(k).Chord()
			if start[i] > 0 {
				lower[i] = math.Min(least, start[i])
			} else {
				upper[i] = math.Max(-least, start[i])
			}
		}
	}
	for _, e := range hold.Stations {
		if k, ok := s.joint(e); ok {
			pin(l.x[k])
		}
	}
	for _, h := range hold.Places {
		s.pinPlace(l, h, pin)
	}
	return lower, upper
}

// joint returns the joint of edge e of the pattern, and false where the section does not hold it.
func (s *section) joint(e int) (int, bool) {
	i := e - s.first
	if i < 0 || i > len(s.elements) {
		return 0, false
	}
	if i == len(s.elements) {
		return len(s.chain.links), true
	}
	return s.links[i], true
}

func (s *section) pinPlace(l *layout, h profile.Place, pin func(int)) {
	near, ok := s.joint(h.Element)
	far, okFar := s.joint(h.Element + 1)
	if !ok || !okFar {
		return
	}
	switch h.Spot {
	case profile.NearEnd:
		pin(l.after[near])
	case profile.FarEnd:
		pin(l.before[far])
	case profile.Middle:
		if far-near == 2 {
			pin(l.before[near+1])
			return
		}
		// A crest hangs between its ends: with all three held it stays.
		pin(l.after[near])
		pin(l.before[far])
		pin(l.sagitta[near])
	}
}
