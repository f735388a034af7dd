package join

import (
	"math"

	"spindlestick/profile"
)

const (
	// sameStation is how far apart two shots may see one station, mm.
	sameStation = 0.7
	// sameRun is how much of a straight element both shots must show to know that it is one, mm, and sameSize how far
	// their diameters may differ there, mm.
	sameRun, sameSize = 12.0, 0.5
)

// splice continues pattern a with pattern b: at a station that both have with the same kinds before and after it, or
// within a straight element that both show, whichever lies nearer to the middle of the overlap, where both are seen
// best. ok is false where there is neither.
func splice(a, b profile.Pattern, s Seam) (p profile.Pattern, at float64, ok bool) {
	p, at, ok = atStation(a, b, s)
	q, run, ok2 := withinRun(a, b, s)
	mid := (s.From + s.To) / 2
	if ok2 && (!ok || math.Abs(run-mid) < math.Abs(at-mid)) {
		return q, run, true
	}
	return p, at, ok
}

func atStation(a, b profile.Pattern, s Seam) (p profile.Pattern, at float64, ok bool) {
	i, j, ok := sharedStation(a, b, s)
	if !ok {
		return p, 0, false
	}
	at = a.Elements[i].X0
	p = continued(a.Elements[:i], b, j, at-b.Elements[j].X0, s)
	return p, at, p.Validate() == nil
}

func withinRun(a, b profile.Pattern, s Seam) (p profile.Pattern, at float64, ok bool) {
	i, j, ok := sharedRun(a, b, s)
	if !ok {
		return p, 0, false
	}
	first, rest := a.Elements[i], moved(b.Elements[j], s.Shift)
	at = (math.Max(first.X0, rest.X0) + math.Min(first.X1, rest.X1)) / 2
	head := append(append([]profile.Element(nil), a.Elements[:i]...), welded(first, rest))
	p = continued(head, b, j+1, s.Shift, s)
	return p, at, p.Validate() == nil
}

// continued is head with b's elements from j on, moved by so many mm.
func continued(head []profile.Element, b profile.Pattern, j int, by float64, s Seam) profile.Pattern {
	p := profile.Pattern{Length: b.Length + by, ULength: math.Hypot(b.ULength, s.UShift)}
	p.Elements = append(p.Elements, head...)
	for _, e := range b.Elements[j:] {
		p.Elements = append(p.Elements, moved(e, by))
	}
	return p
}

func sharedStation(a, b profile.Pattern, s Seam) (i, j int, ok bool) {
	far := math.Inf(1)
	for m := 1; m < len(a.Elements); m++ {
		for n := 1; n < len(b.Elements); n++ {
			x := a.Elements[m].X0
			off := math.Abs(x - (s.From+s.To)/2)
			if math.Abs(b.Elements[n].X0+s.Shift-x) < sameStation && off < far && alike(a, b, m, n) {
				i, j, far, ok = m, n, off, true
			}
		}
	}
	return i, j, ok
}

// alike reports whether elements m of a and n of b, and those before them, are of one kind.
func alike(a, b profile.Pattern, m, n int) bool {
	return a.Elements[m].Kind == b.Elements[n].Kind && a.Elements[m-1].Kind == b.Elements[n-1].Kind
}

// sharedRun finds the straight element that both show longest.
func sharedRun(a, b profile.Pattern, s Seam) (i, j int, ok bool) {
	longest := sameRun
	for m, e := range a.Elements {
		for n, o := range b.Elements {
			o = moved(o, s.Shift)
			from, to := math.Max(e.X0, o.X0), math.Min(e.X1, o.X1)
			mid := (from + to) / 2
			if straight(e) && straight(o) && to-from > longest && math.Abs(e.At(mid)-o.At(mid)) < sameSize {
				i, j, ok, longest = m, n, true, to-from
			}
		}
	}
	return i, j, ok
}

func straight(e profile.Element) bool { return e.Kind == profile.Taper || e.Kind == profile.Cylinder }

// welded is the one element of which a shows the beginning and b the end.
func welded(a, b profile.Element) profile.Element {
	e := a
	e.X1, e.D1, e.U.X1, e.U.D1 = b.X1, b.D1, b.U.X1, b.U.D1
	e.Residual = math.Max(a.Residual, b.Residual)
	if a.Kind == profile.Cylinder && b.Kind == profile.Cylinder {
		e.D0 = (a.D0 + b.D1) / 2
		e.D1 = e.D0
		return e
	}
	e.Kind = profile.Taper
	return e
}

func moved(e profile.Element, by float64) profile.Element {
	e.X0, e.X1 = e.X0+by, e.X1+by
	if e.Kind.Inner() || e.InnerX != 0 {
		e.InnerX += by
	}
	return e
}
