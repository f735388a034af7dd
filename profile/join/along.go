package join

import (
	"fmt"
	"math"

	"spindlestick/profile"
	"spindlestick/profile/fit"
)

// Joined is one piece out of several shots.
type Joined struct {
	Trace   profile.Trace
	Pattern profile.Pattern
	Seams   []Seam
}

// Along joins shots that overlap along a piece, in order from the hook end, into one trace and one pattern. Where two
// shots' patterns share a station or a straight element, one takes over from the other there; otherwise the joined
// trace is fitted anew. Shots that do not agree over their overlap are an error that says where.
func Along(shots []Shot, opt Options) (Joined, error) {
	if len(shots) < 2 {
		return Joined{}, fmt.Errorf("join: %w: %d given, it takes two or more", ErrShots, len(shots))
	}
	for _, s := range shots {
		if err := s.validate(); err != nil {
			return Joined{}, err
		}
	}
	whole := shots[0]
	var seams []Seam
	for _, next := range shots[1:] {
		seam, err := meet(whole, next, opt)
		if err != nil {
			return Joined{}, err
		}
		whole = merge(whole, next, &seam)
		seams = append(seams, seam)
	}
	if len(whole.Pattern.Elements) == 0 {
		p, err := fit.Trace(whole.Trace, fit.Options{})
		if err != nil {
			return Joined{}, fmt.Errorf("join: fit the joined trace: %w", err)
		}
		whole.Pattern = p
	}
	return Joined{whole.Trace, whole.Pattern, seams}, nil
}

// meet finds the seam of two shots and judges it.
func meet(a, b Shot, opt Options) (Seam, error) {
	at, other, err := find(a, b, opt)
	if err != nil {
		return Seam{}, err
	}
	shift, u := settle(a, b, at)
	ls := compare(a, b, shift)
	bad, rms, off := parts(ls)
	s := Seam{
		Names: [2]string{a.Name, b.Name}, Shift: shift, UShift: u, RMS: rms, Parts: bad,
		From: math.Max(0, shift), To: math.Min(a.Trace.Length, shift+b.Trace.Length),
	}
	s.At = (s.From + s.To) / 2
	if off > mostOff {
		w := worst(bad)
		return s, fmt.Errorf("join: %w: %s and %s do not agree over their overlap from %.0f to %.0f mm: %.0f %% of it differs, most at %.0f to %.0f mm by %.2f mm (%.2f mm is uncertain): see that both lie at the same height and carry the right scale",
			ErrShots, a.Name, b.Name, s.From, s.To, 100*off, w.X0, w.X1, w.Difference, w.U)
	}
	if other != nil {
		return s, fmt.Errorf("join: %w: %s continues %s at %.0f mm as well as at %.0f mm: let the photographs share a bead or a cove, or say how much they overlap",
			ErrShots, b.Name, a.Name, at, *other)
	}
	return s, nil
}

// worst is the part with the largest difference; of none, an empty one.
func worst(ps []Part) Part {
	var w Part
	for _, p := range ps {
		if math.Abs(p.Difference) > math.Abs(w.Difference) {
			w = p
		}
	}
	return w
}

// merge continues a with b. The seam moves to a station that both patterns have, where there is one.
func merge(a, b Shot, s *Seam) Shot {
	p, at, ok := splice(a.Pattern, b.Pattern, *s)
	if ok {
		s.At = at
	}
	out := Shot{Name: a.Name + " and " + b.Name, Pattern: p, Cut: [2]bool{a.Cut[0], b.Cut[1]}}
	t := profile.Trace{Length: s.Shift + b.Trace.Length, ULength: math.Hypot(b.Trace.ULength, s.UShift)}
	if !a.Cut[1] {
		t.ULength = math.Hypot(t.ULength, a.Trace.ULength)
	}
	for _, q := range a.Trace.Samples {
		if q.X <= s.At {
			t.Samples = append(t.Samples, q)
		}
	}
	for _, q := range b.Trace.Samples {
		if q.X += s.Shift; q.X > s.At {
			t.Samples = append(t.Samples, q)
		}
	}
	if ok {
		t.Length = p.Length
	}
	out.Trace = t
	return out
}
