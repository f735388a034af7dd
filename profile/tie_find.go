package profile

import (
	"math"
	"slices"
)

// Limits of what is offered as equal (common practice, no source).
const (
	// mostAlike is the largest difference offered as one size whatever the uncertainty, mm: 1/32 in, which a turner
	// working to a rule would hardly intend.
	mostAlike = 25.4 / 32
	// leastAlike is offered even where the uncertainty is smaller, mm: hand turning repeats no better.
	leastAlike = 0.15
	// unknownAlike stands in for an uncertainty that is not known, mm.
	unknownAlike = 0.2
	// offeredCorner is the largest corner at a joint that is offered as tangent, radians: six degrees, which the eye
	// takes for smooth.
	offeredCorner = 0.1
)

// Offers returns ties that the pattern nearly keeps and that the user has not asked for: repeated groups and mirror
// pairs first, the longest first, then equal diameters and tangent joints. Nothing of it is in force.
func Offers(p Pattern) []Tie {
	out := append(p.groupOffers(), p.equalOffers()...)
	for k := 1; k < len(p.Elements); k++ {
		t := Tie{Kind: Tangent, Joint: k}
		if !p.nearlySmooth(k) {
			continue
		}
		if _, err := AddTie(p, t); err == nil { // an arc beside it can be bent that far
			out = append(out, t)
		}
	}
	return slices.DeleteFunc(out, func(t Tie) bool {
		return slices.ContainsFunc(p.Ties, func(have Tie) bool { return have.covers(t) })
	})
}

// alike reports whether two numbers are one within their expanded uncertainties.
func alike(a, ua, b, ub float64) bool {
	u := math.Hypot(ua, ub)
	if ua == 0 || ub == 0 {
		u = unknownAlike
	}
	return math.Abs(a-b) <= math.Max(leastAlike, math.Min(mostAlike, u))
}

// nearlySmooth reports whether joint k is worth a tie: an arc takes part, and the corner is one that the eye misses.
func (p Pattern) nearlySmooth(k int) bool {
	a, b := p.Elements[k-1], p.Elements[k]
	if !a.Kind.Curved() && !b.Kind.Curved() || a.Kind == Square || b.Kind == Square || !alike(a.D1, a.U.D1, b.D0, b.U.D0) {
		return false
	}
	return math.Abs(b.first().startAngle()-a.last().endAngle()) < offeredCorner
}

// likeness is what two elements must share to be offered as twins, worked out once for each.
type likeness struct {
	kind                Kind
	style               Style
	length, d0, d1, mid float64
	ul, u0, u1, um      float64 // their expanded uncertainties
	peaked              bool    // it has a mid
}

func (e Element) likeness() likeness {
	l := likeness{kind: e.Kind, style: e.Style, length: e.Length(), d0: e.D0, d1: e.D1,
		ul: math.Hypot(e.U.X0, e.U.X1), u0: e.U.D0, u1: e.U.D1, um: e.U.Mid}
	_, l.mid, _ = e.Mid()
	l.peaked = e.peaks()
	return l
}

// mirrored is the likeness of the mirror image.
func (l likeness) mirrored() likeness {
	l.d0, l.d1, l.u0, l.u1 = l.d1, l.d0, l.u1, l.u0
	return l
}

// like reports whether two elements are the same shape within the uncertainties.
func (l likeness) like(m likeness) bool {
	return l.kind == m.kind && l.style == m.style && alike(l.length, l.ul, m.length, m.ul) &&
		alike(l.d0, l.u0, m.d0, m.u0) && alike(l.d1, l.u1, m.d1, m.u1) &&
		l.peaked == m.peaked && (!l.peaked || alike(l.mid, l.um, m.mid, m.um))
}

// groupOffers finds the repeated groups and mirror pairs.
func (p Pattern) groupOffers() []Tie {
	n := len(p.Elements)
	all := make([]likeness, n)
	for i, e := range p.Elements {
		all[i] = e.likeness()
	}
	var found []Tie
	for a := range n {
		for b := a + 1; b < n; b++ {
			if k := run(all, a, b, 1); k > 0 {
				found = append(found, Tie{Kind: Repeated, Groups: []int{a, b}, Count: k})
			}
			if k := run(all, a, b, -1); k > 1 {
				found = append(found, Tie{Kind: Mirrored, Groups: []int{a, b - k + 1}, Count: k})
			}
		}
	}
	slices.SortStableFunc(found, func(x, y Tie) int { return y.Count - x.Count })
	var out []Tie
	for _, t := range found {
		t = gathered(all, t)
		if !slices.ContainsFunc(out, func(have Tie) bool { return have.covers(t) }) && p.shapely(t) {
			out = append(out, t)
		}
	}
	return out
}

// run counts how many elements from a on are like those from b on, going up (step 1) or down (-1), without overlap.
func run(all []likeness, a, b, step int) int {
	k := 0
	for {
		i, j := a+k, b+step*k
		if j >= len(all) || j < 0 || step > 0 && i >= b || step < 0 && i >= j {
			return k
		}
		f := all[j]
		if step < 0 {
			f = f.mirrored()
		}
		if !all[i].like(f) {
			return k
		}
		k++
	}
}

// shapely reports whether a group holds more than level runs and tapers: that two fillets are alike is for their
// diameters to say.
func (p Pattern) shapely(t Tie) bool {
	for k := t.Groups[0]; k < t.Groups[0]+t.Count; k++ {
		switch p.Elements[k].Kind {
		case Fillet, Cylinder, Taper, Square:
		default:
			return true
		}
	}
	return false
}

// gathered adds to a repeated pair every other run that is like its first.
func gathered(all []likeness, t Tie) Tie {
	if t.Kind != Repeated {
		return t
	}
	first := t.Groups[0]
	t.Groups = []int{first}
	for b := first + t.Count; b+t.Count <= len(all); b++ {
		if run(all, first, b, 1) >= t.Count {
			t.Groups = append(t.Groups, b)
			b += t.Count - 1
		}
	}
	return t
}

// covers reports whether tie t asks for nothing that have does not hold already.
func (have Tie) covers(t Tie) bool {
	switch {
	case have.Kind != t.Kind:
		return false
	case t.Kind == Equal:
		return !slices.ContainsFunc(t.Places, func(l Place) bool { return !slices.Contains(have.Places, l) })
	case t.Kind == Tangent:
		return have.Joint == t.Joint
	}
	for _, g := range t.Groups[1:] {
		if !have.pairs(t.Groups[0], g, t.Count) {
			return false
		}
	}
	return true
}

// pairs reports whether the tie makes the count elements from a on answer to those from b on.
func (have Tie) pairs(a, b, count int) bool {
	for j := range count {
		at := b + j
		if have.Kind == Mirrored {
			at = b + count - 1 - j
		}
		if !slices.Contains(have.answers(a+j), at) {
			return false
		}
	}
	return true
}
