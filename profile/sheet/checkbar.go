package sheet

import (
	"strconv"
)

// Check is the layer of the check bars.
const Check Layer = "check"

// checkBar draws a line with a tick at each division; its length lies between the middles of its end ticks. It runs
// to the right from at, or down when upright.
func checkBar(s Surface, at Point, divisions int, division float64, label string, upright bool) {
	pen := Pen{Layer: Check, Width: 0.18}
	length := float64(divisions) * division
	place := func(along, across float64) Point {
		if upright {
			return Point{at.X + across, at.Y + along}
		}
		return Point{at.X + along, at.Y + across}
	}
	s.Stroke([]Point{place(0, 0), place(length, 0)}, false, pen)
	for i := range divisions + 1 {
		tick := 1.3
		if i == 0 || i == divisions {
			tick = 3
		}
		along := float64(i) * division
		s.Stroke([]Point{place(along, 0), place(along, -tick)}, false, pen)
	}
	t := Text{S: label, Cap: 2.2, Anchor: Middle, Layer: Lettered, At: place(length/2, 3.2)}
	if upright {
		t.Turn, t.At = quarterTurn, place(length/2, 3.2)
	}
	s.Write(t)
}

// mmBar draws a bar of n mm, n a multiple of 10.
func mmBar(s Surface, at Point, n int, upright bool) {
	checkBar(s, at, n/10, 10, strconv.Itoa(n)+" mm", upright)
}

// inchBar draws a bar of 4 in with a tick at each half inch.
func inchBar(s Surface, at Point) { checkBar(s, at, 8, 12.7, "4 in", false) }
