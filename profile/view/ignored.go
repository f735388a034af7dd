package view

import (
	"math"

	"spindlestick/profile"
)

// span is a stretch of stations, mm.
type span struct{ x0, x1 float64 }

// stretches returns the stations where points of a side are of a state: Inferred ones were passed over at the user's
// word, Hidden ones could not be made out. Neighbouring ones make one stretch.
func (a placed) stretches(side []EdgePoint, state profile.State) []span {
	var out []span
	open := false
	for _, e := range side {
		if e.State != state || !finite2(e.P) {
			open = false
			continue
		}
		u, _ := a.p.ToAxis(e.P)
		x := a.p.Station(u)
		if !open {
			out = append(out, span{x, x})
		}
		open = true
		s := &out[len(out)-1]
		s.x0, s.x1 = math.Min(s.x0, x), math.Max(s.x1, x)
	}
	return out
}

func holds(spans []span, x float64) bool {
	for _, s := range spans {
		if x >= s.x0 && x <= s.x1 {
			return true
		}
	}
	return false
}

// pass reads a station where the user passed over sides, or where they could not be made out: the other side alone, or
// neither.
func (a placed) pass(p, q sideReading, x float64) (sideReading, sideReading, profile.State) {
	var state profile.State
	p.ok, q.ok = p.ok && !holds(a.unseen[0], x), q.ok && !holds(a.unseen[1], x)
	if holds(a.passed[0], x) {
		p.ok, state = false, profile.Damaged
	}
	if holds(a.passed[1], x) {
		q.ok, state = false, profile.Damaged
	}
	if !p.ok && !q.ok {
		state = profile.Inferred
	}
	return p, q, state
}

// bridge gives stretches that nothing is known of the straight line between their neighbours, as inferred.
func bridge(s []profile.Sample) {
	known := func(i int) bool { return s[i].State != profile.Inferred }
	for i := range s {
		if known(i) {
			continue
		}
		b := i - 1
		for b >= 0 && !known(b) {
			b--
		}
		f := i + 1
		for f < len(s) && !known(f) {
			f++
		}
		switch {
		case b < 0 && f == len(s):
			return
		case b < 0:
			b = f
		case f == len(s):
			f = b
		}
		w := 0.0
		if f != b && s[f].X > s[b].X {
			w = (s[i].X - s[b].X) / (s[f].X - s[b].X)
		}
		s[i].R = s[b].R + w*(s[f].R-s[b].R)
		s[i].Sides = [2]float64{s[i].R, s[i].R}
		s[i].U = math.Max(s[b].U, s[f].U) + math.Abs(s[f].R-s[b].R)
	}
}
