package plan

import (
	"math"

	"spindlestick/profile"
)

// Line is a line to square across all four faces of the blank before it goes on the lathe.
type Line struct {
	X    float64 // mm from the hook end of the finished piece
	What string
}

// layout returns the lines at the finished ends and at both sides of every square.
func layout(p profile.Pattern) []Line {
	out := []Line{{0, "finished end (hook end): the stick's zero"}}
	for i, e := range p.Elements {
		switch e.Kind {
		case profile.Shoulder:
			out = append(out, pommel(e)...)
		case profile.Square:
			if i > 0 && !squared(p.Elements[i-1].Kind) {
				out = append(out, Line{e.X0, "square shoulder: the square begins here"})
			}
			if i+1 < len(p.Elements) && !squared(p.Elements[i+1].Kind) {
				out = append(out, Line{e.X1, "square shoulder: the square ends here"})
			}
		}
	}
	return append(out, Line{p.Length, "finished end"})
}

// pommel returns a shoulder's lines in order of station: where the corners are first cut, where the last of the flat
// goes, and where the shoulder ends.
func pommel(e profile.Element) []Line {
	atCorner, atRound, rising := e.X0, e.X1, false
	if e.D1 > e.D0 {
		atCorner, atRound, rising = e.X1, e.X0, true
	}
	out := []Line{{atCorner, "pommel: the corners are first cut here"}}
	if x, ok := flatEnds(e); ok && math.Abs(x-atRound) > equal && math.Abs(x-atCorner) > equal {
		out = append(out, Line{x, "pommel: the last of the flat goes here"})
	}
	out = append(out, Line{atRound, "pommel: its round end"})
	if rising {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out
}

// flatEnds finds the station where a shoulder's diameter equals the side of its square: a flat of side s is cut along
// y = sqrt(r² - s²/4), which ends where r = s/2.
func flatEnds(e profile.Element) (float64, bool) {
	lo, hi := e.X0, e.X1
	rising := e.D1 > e.D0
	if e.Side <= math.Min(e.D0, e.D1) || e.Side >= math.Max(e.D0, e.D1) {
		return 0, false
	}
	for range 60 {
		mid := (lo + hi) / 2
		if (e.At(mid) < e.Side) == rising {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, true
}
