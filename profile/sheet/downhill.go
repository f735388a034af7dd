package sheet

import (
	"math"

	"spindlestick/profile"
)

// parting is how far from a mark the wood is looked at, mm: the width of a parting tool, 1/8 in (common practice, no
// source).
const parting = 25.4 / 8

// deepCut is how much nearer to the axis the wood must lie on one side of a mark that it makes a difference on which
// side one cuts, mm: a shaving or two.
const deepCut = 0.5

// downhill returns on which side of a mark a deep cut belongs: -1 the hook end's, 1 the other, 0 where it makes no difference.
// Deep cuts are made on the downhill side of the mark (Milton & Wohlers, A Course in Wood Turning, 1919).
func downhill(p profile.Pattern, st profile.Station) float64 {
	i := st.Element
	if st.Role != profile.Edge || i == 0 || i >= len(p.Elements) {
		return 0
	}
	before, after := p.Elements[i-1], p.Elements[i]
	fall := meanHalf(before, math.Max(before.X0, before.X1-parting), before.X1) - meanHalf(after, after.X0, math.Min(after.X1, after.X0+parting))
	switch {
	case fall > deepCut:
		return 1
	case fall < -deepCut:
		return -1
	}
	return 0
}

// meanHalf is the mean half height of an element between two stations, mm.
func meanHalf(e profile.Element, lo, hi float64) float64 {
	const n = 8
	sum := 0.0
	for i := range n {
		sum += half(e, lo+(hi-lo)*(float64(i)+0.5)/n)
	}
	return sum / n
}

// The block that says on which side to cut: its distance from the line, so that the line stays crisp, and its width, mm.
const (
	blockGap  = 0.65
	blockWide = 2.4
	blockLow  = 0.5 // narrower ones are left out: the neighbour's line stands there
	blockGrey = 0.45
)

// drawSide shades the side of the foot of station i on which to cut.
func (k *stick) drawSide(s Surface, f frame, t tile, i int) {
	st, side := k.stations[i], k.settings[i].side
	if side == 0 {
		return
	}
	e := k.pattern.Elements[st.Element]
	if side < 0 {
		e = k.pattern.Elements[st.Element-1]
	}
	a, b := st.X+side*blockGap, st.X+side*math.Min(blockWide, e.Length()/2)
	lo, hi := math.Max(math.Min(a, b), t.From), math.Min(math.Max(a, b), t.To)
	if side*(b-a) < blockLow || hi <= lo {
		return
	}
	bar(s, f.Origin.X+lo, f.Origin.Y-3, f.Origin.X+hi, f.Origin.Y, blockGrey, Stations)
}
