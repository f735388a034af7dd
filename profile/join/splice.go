package join

import (
	"math"

	"spindlestick/profile"
)

// sameStation is how far apart two shots may see one station, mm.
const sameStation = 0.7

// splice continues pattern a with pattern b at the station nearest to the middle of the overlap that both have with the
// same kinds before and after it. ok is false where there is none.
func splice(a, b profile.Pattern, s Seam) (p profile.Pattern, at float64, ok bool) {
	far := math.Inf(1)
	var i, j int
	for m := 1; m < len(a.Elements); m++ {
		for n := 1; n < len(b.Elements); n++ {
			x := a.Elements[m].X0
			off := math.Abs(x - (s.From+s.To)/2)
			if math.Abs(b.Elements[n].X0+s.Shift-x) < sameStation && off < far && alike(a, b, m, n) {
				i, j, far = m, n, off
			}
		}
	}
	if math.IsInf(far, 1) {
		return profile.Pattern{}, 0, false
	}
	at = a.Elements[i].X0
	by := at - b.Elements[j].X0
	p = profile.Pattern{Length: b.Length + by, ULength: math.Hypot(b.ULength, s.UShift)}
	p.Elements = append(p.Elements, a.Elements[:i]...)
	for _, e := range b.Elements[j:] {
		p.Elements = append(p.Elements, moved(e, by))
	}
	return p, at, p.Validate() == nil
}

// alike reports whether elements m of a and n of b, and those before them, are of one kind.
func alike(a, b profile.Pattern, m, n int) bool {
	return a.Elements[m].Kind == b.Elements[n].Kind && a.Elements[m-1].Kind == b.Elements[n-1].Kind
}

func moved(e profile.Element, by float64) profile.Element {
	e.X0, e.X1 = e.X0+by, e.X1+by
	if e.Kind.Inner() || e.InnerX != 0 {
		e.InnerX += by
	}
	return e
}
