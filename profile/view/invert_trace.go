package view

import (
	"math"
	"runtime"
	"slices"
	"sync"

	"spindlestick/profile"
)

const (
	// traceStep is the spacing of the samples, mm: under a pixel at 3 pixels per mm.
	traceStep = 0.25
	// reachOfHidden is half the stretch over which the nearest ray must move on with the station, mm.
	reachOfHidden = 0.4
	// standing is the share of its usual speed under which the nearest ray stands still: the station is then only
	// bounded by what stands in front of it.
	standing = 0.3
	// slow is the share below which it stands still if it also sits in a notch of the outline.
	slow = 0.6
	// notch is how sharp an inward corner of the outline is a notch, radians: two contours that cross, where one
	// stands in front of the other. A cove's bottom turns as much only over a radius of four pixels or less.
	notch = 0.25
	// notchArm is how many points on either side show it.
	notchArm = 5
	// leastHidden is the shortest stretch that is called hidden, mm.
	leastHidden = 0.3
	// apart is by how many of their joint standard deviations the two sides must differ to be called damaged.
	apart = 4
	// leastDamage is the least difference of the two sides' radii that is called damage, in mm and in pixels: grain,
	// a speck of paint, or an edge shaded on one side make less.
	leastDamage, leastDamagePx = 0.25, 1.2
	// restOfDamage is the difference down to which damage runs out beside where it is plain, in mm and in pixels.
	restOfDamage, restOfDamagePx = 0.1, 0.3
	// damageRunsOut is how far it does so at most, mm: shells break out flat at their rim.
	damageRunsOut = 2.0
	// shortestDamage is the shortest stretch that is called damage, mm: a shoulder that stands a pixel askew is less.
	shortestDamage = 1.0
)

// sideReading is what one side says at a station.
type sideReading struct {
	ok     bool
	r      float64
	sigma  float64 // mm
	hidden bool
}

// read inverts one side at station x.
func (a placed) read(side int, x float64) sideReading {
	if q, ok := a.square(x); ok {
		return a.readSquare(q, side, x)
	}
	c := &a.contours[side]
	t, ok := c.nearest(x)
	if !ok {
		return sideReading{}
	}
	out := sideReading{ok: true, r: t.r, sigma: c.sigma[t.i] * a.p.D}
	lo, hi := math.Max(0, x-reachOfHidden), math.Min(a.ends[1].x, x+reachOfHidden)
	before, okB := c.nearest(lo)
	after, okA := c.nearest(hi)
	if okB && okA {
		speed := math.Abs(after.u-before.u) * a.p.D / (hi - lo)
		out.hidden = speed < standing || speed < slow && c.notched(t.i)
	}
	return out
}

// trace samples the meridian from end to end. Its length is as sure as the ends are, so far.
func (a placed) trace() profile.Trace {
	length := a.ends[1].x
	var out profile.Trace
	out.Length = length
	out.ULength = 2 * math.Hypot(a.ends[0].sigma, a.ends[1].sigma)
	n := int(math.Floor(length/traceStep + 1e-9))
	out.Samples = a.sampledTo(n)
	if last := float64(n) * traceStep; length-last > 1e-6 {
		out.Samples = a.sampled(out.Samples, length)
	}
	out.Samples = a.stepped(out.Samples)
	dropShort(out.Samples, profile.Hidden, leastHidden)
	dropShort(out.Samples, profile.Damaged, shortestDamage)
	growDamage(out.Samples, math.Max(restOfDamage, restOfDamagePx*a.p.MMPerPixel(length/2)))
	furtherOut(out.Samples)
	bridge(out.Samples)
	return out
}

// sampledTo samples the first n+1 stations, in stretches side by side on all processors.
func (a placed) sampledTo(n int) []profile.Sample {
	parts := make([][]profile.Sample, runtime.GOMAXPROCS(0))
	var wait sync.WaitGroup
	for i := range parts {
		wait.Go(func() {
			from, to := i*(n+1)/len(parts), (i+1)*(n+1)/len(parts)
			for k := from; k < to; k++ {
				parts[i] = a.sampled(parts[i], float64(k)*traceStep)
			}
		})
	}
	wait.Wait()
	return slices.Concat(parts...)
}

func (a placed) sampled(to []profile.Sample, x float64) []profile.Sample {
	p, q, state := a.pass(a.read(0, x), a.read(1, x), x)
	switch {
	case !p.ok && !q.ok && state == profile.Inferred:
		return append(to, profile.Sample{X: x, State: profile.Inferred})
	case !p.ok && !q.ok:
		return to
	case !p.ok:
		p = q
	case !q.ok:
		q = p
	}
	s := a.join(x, p, q)
	if state != "" {
		s.State = state
	}
	return append(to, s)
}

// join makes one sample of both sides, their mean; furtherOut has the last word where they disagree.
func (a placed) join(x float64, p, q sideReading) profile.Sample {
	joint := math.Hypot(p.sigma, q.sigma)
	s := profile.Sample{X: x, R: (p.r + q.r) / 2, U: 2 * joint, State: profile.Visible, Sides: [2]float64{p.r, q.r}}
	sq, inSquare := a.square(x)
	if inSquare {
		s.U = 2 * math.Hypot(joint, 2*sq.byRoll(a.p.D)*sq.sigmaRoll)
	}
	differ := math.Max(math.Max(leastDamage, leastDamagePx*a.p.MMPerPixel(x)), apart*joint)
	if sq, ok := a.besideSquare(x); ok && !inSquare {
		// Corners that the shoulder has not yet cut off reach further than anything round.
		p.r, q.r = math.Min(p.r, sq.half), math.Min(q.r, sq.half)
		s.R, s.Sides = (p.r+q.r)/2, [2]float64{p.r, q.r}
		differ += 2 * math.Abs(sq.slant(a.p.D)) * a.p.D
	}
	switch {
	case p.hidden && q.hidden:
		s.State = profile.Hidden
	case math.Abs(p.r-q.r) > differ:
		s.State = profile.Damaged
	}
	return s
}

// growDamage lets damage run out to either side as far as the same side lies further in by more than least.
func growDamage(s []profile.Sample, least float64) {
	in := func(i int) float64 { return s[i].Sides[1] - s[i].Sides[0] }
	grow := func(i, step int) {
		from, sign := s[i].X, math.Copysign(1, in(i))
		for k := i + step; k >= 0 && k < len(s) && math.Abs(s[k].X-from) <= damageRunsOut; k += step {
			if s[k].State == profile.Damaged || sign*in(k) < least {
				return
			}
			s[k].State = profile.Damaged
		}
	}
	var first, last []int
	for i := range s {
		if s[i].State != profile.Damaged {
			continue
		}
		if i == 0 || s[i-1].State != profile.Damaged {
			first = append(first, i)
		}
		if i == len(s)-1 || s[i+1].State != profile.Damaged {
			last = append(last, i)
		}
	}
	for _, i := range first {
		grow(i, -1)
	}
	for _, i := range last {
		grow(i, 1)
	}
}

// furtherOut gives damaged samples the side that is further out: chips only take away.
func furtherOut(s []profile.Sample) {
	for i := range s {
		if s[i].State == profile.Damaged {
			s[i].R = math.Max(s[i].Sides[0], s[i].Sides[1])
		}
	}
}

// notched reports whether the outline turns inward at point i.
func (c *contour) notched(i int) bool {
	for k := max(notchArm, i-1); k <= i+1 && k+notchArm < len(c.u); k++ {
		before := math.Atan2(c.v[k]-c.v[k-notchArm], c.u[k]-c.u[k-notchArm])
		after := math.Atan2(c.v[k+notchArm]-c.v[k], c.u[k+notchArm]-c.u[k])
		if after-before > notch {
			return true
		}
	}
	return false
}

// dropShort makes stretches of a state that are shorter than least mm visible.
func dropShort(s []profile.Sample, state profile.State, least float64) {
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && s[j].State == state {
			j++
		}
		if j > i && s[j-1].X-s[i].X < least {
			for k := i; k < j; k++ {
				s[k].State = profile.Visible
			}
		}
		i = max(j, i+1)
	}
}
