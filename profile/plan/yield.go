package plan

import "math"

// Yield is what one length of stock gives.
type Yield struct {
	Length float64 // of the stock, mm
	Each   int     // blanks from one length
	Count  int     // lengths for all copies; 0 where a blank is longer than the stock
	Left   float64 // mm left over of all of them, saw cuts not counted
}

// yields reckons every stock length: n blanks from one piece need n-1 saw cuts at least.
func yields(b Blank, o Options) []Yield {
	var out []Yield
	for _, l := range o.Lengths {
		y := Yield{Length: l, Each: int(math.Floor((l + o.Kerf + rounding) / (b.Length + o.Kerf)))}
		if y.Each > 0 {
			y.Count = (o.Copies + y.Each - 1) / y.Each
			y.Left = float64(y.Count)*l - float64(o.Copies)*b.Length
		}
		out = append(out, y)
	}
	return out
}

// BestYield is the index of the stock length that leaves least over, of equals the one with fewest pieces; -1 where none
// is long enough.
func BestYield(ys []Yield) int {
	best := -1
	for i, y := range ys {
		if y.Count == 0 {
			continue
		}
		if best < 0 || y.Left < ys[best].Left || y.Left == ys[best].Left && y.Count < ys[best].Count {
			best = i
		}
	}
	return best
}
