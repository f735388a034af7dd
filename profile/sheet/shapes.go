package sheet

import (
	"math"
	"strconv"

	"spindlestick/profile"
)

func ordinal(i int) string { return strconv.Itoa(i + 1) }

func leaderPen() Pen { return Pen{Layer: Stations, Width: 0.13, Grey: 0.2} }

// uncertain reports whether a stretch was not measured, or not on sound wood.
func uncertain(s profile.State) bool {
	return s == profile.Hidden || s == profile.Damaged || s == profile.Inferred
}

// hatch draws lines at 45 degrees under an element's outline between two stations.
func hatch(s Surface, f frame, e profile.Element, lo, hi float64) {
	const gap, step = 2.0, 0.1 // mm between lines; mm between looks at the outline
	n := int((hi-lo)/step) + 1
	top, highest := make([]float64, n), 0.0
	for i := range top {
		top[i] = f.Scale * half(e, lo+float64(i)*step)
		highest = math.Max(highest, top[i])
	}
	for c := math.Floor((lo-highest)/gap) * gap; c < hi; c += gap {
		first := max(0, int(math.Ceil((c-lo)/step)))
		from := -1
		for i := first; i <= n; i++ {
			up := lo + float64(i)*step - c // the line's height over the axis here
			inside := i < n && up <= top[i]
			switch {
			case inside && from < 0:
				from = i
			case !inside && from >= 0:
				hatchLine(s, f, lo+float64(from)*step, lo+float64(i-1)*step, c)
				from = -1
			}
			if up > highest {
				break
			}
		}
	}
}

func hatchLine(s Surface, f frame, from, to, c float64) {
	if to > from {
		s.Stroke([]Point{f.level(from, from-c), f.level(to, to-c)}, false, Pen{Layer: Hatching, Width: 0.13, Grey: 0.2})
	}
}

// level is a point of the page above station x, up mm from the axis whatever the scale of radii.
func (f frame) level(x, up float64) Point {
	return frame{Origin: f.Origin, Scale: 1, Down: f.Down}.at(x, up)
}

// cross draws the crossed diagonals that mark a flat face (as on technical drawings, ISO 128-3) between two distances
// from the axis.
func cross(s Surface, f frame, e profile.Element, t tile, r0, r1 float64) {
	pen := Pen{Layer: Hatching, Width: 0.13, Grey: 0.3}
	for _, d := range [][2]float64{{r0, r1}, {r1, r0}} {
		at := func(x float64) Point { return f.at(x, d[0]+(d[1]-d[0])*(x-e.X0)/(e.X1-e.X0)) }
		lo, hi := math.Max(e.X0, t.From), math.Min(e.X1, t.To)
		s.Stroke([]Point{at(lo), at(hi)}, false, pen)
	}
}

// drawJoins marks where a strip meets its neighbours: a line to cut or to meet, and the join's letter at both ends.
func drawJoins(s Surface, x, top, bottom float64, t tile) {
	pen := Pen{Layer: Furnish, Width: 0.2, Dash: []float64{5, 1, 1, 1}}
	mark := func(join float64, letter string, side float64) {
		line(s, x+join, top+1, x+join, bottom+3, pen)
		s.Write(Text{At: Point{x + join + side*1.2, top + 3.2}, S: letter, Cap: 2.2, Bold: true, Anchor: Anchor(1 - int(side)), Layer: Lettered})
	}
	if t.Number > 1 {
		mark(t.Left, "cut "+joinName(t.Number-1), 1)
	}
	if t.Number < t.Of {
		mark(t.Right, "join "+joinName(t.Number), -1)
	}
}

// joinName is A, B, ... Z, AA, AB, ... for the first, second, ... join.
func joinName(n int) string {
	if n <= 26 {
		return string(rune('A' + n - 1))
	}
	return joinName((n-1)/26) + joinName((n-1)%26+1)
}
