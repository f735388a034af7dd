package sheet

import (
	"fmt"
	"math"
)

// legend explains the stick's marks, the most needful first.
func (k *stick) legend() []string {
	out := []string{"this edge against the work"}
	if len(k.faces) > 1 {
		out = []string{"fold along the middle line: that edge against the work; the even stations are on the other face"}
	}
	if k.hook > 0 {
		out = append(out, fmt.Sprintf("line 1 is %s %s in: waste before it", figure(k.hook, k.units), k.units.Suffix()))
	}
	out = append(out, "dark foot: cut on that side")
	if k.allowance >= 0 {
		out = append(out, "small figure: size to it")
	}
	return append(out, "same letter: same caliper setting", "a → b: a step, hook end's side first", "broken: crest or bottom",
		"□ side of a square", "hatched: worn, hidden or inferred")
}

// drawLegend writes as much under each strip as finds room there; what is left goes on under the next.
func (k *stick) drawLegend(s Surface, x, y float64, t tile) {
	left := k.legend()
	for i, u := range k.tiles {
		words := left
		if i > 0 {
			words = append([]string{fmt.Sprintf("cut off at %s and lay line %[1]s on line %[1]s of strip %d", joinName(i), i)}, left...)
		}
		at := legendPlaces(words, math.Max(0, u.Left)+3, math.Min(u.To, u.Right))
		if u.Number == t.Number {
			for j, from := range at {
				s.Write(Text{At: Point{x + from, y}, S: words[j], Cap: legendCap, Grey: 0.3, Layer: Lettered})
			}
			return
		}
		left = left[min(len(left), max(0, len(at)-min(i, 1))):]
	}
}

const (
	legendCap = 1.7 // mm
	legendAir = 5   // between two of its entries, mm
)

// legendPlaces returns where the first words begin, as many as find room side by side between two stations.
func legendPlaces(words []string, from, to float64) []float64 {
	var at []float64
	for _, w := range words {
		width := textWidth(w, legendCap)
		if from+width > to {
			break
		}
		at = append(at, from)
		from += width + legendAir
	}
	return at
}
