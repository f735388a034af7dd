package sheet

import (
	"fmt"
	"math"

	"spindlestick/profile"
)

// legend explains the stick's marks, the most needful first.
func (k *stick) legend() []string {
	out := []string{"this edge against the work"}
	if len(k.faces) > 1 {
		out = []string{"fold along the middle line: that edge against the work; the even stations are on the other face"}
	}
	if k.hook > 0 {
		out = append(out, fmt.Sprintf("waste before line 1: %s %s", figure(k.hook, k.units), k.units.Suffix()))
	}
	out = append(out, "dark foot: cut on that side")
	if k.allowance >= 0 {
		out = append(out, "small figure: size to it")
	}
	seen := k.marks()
	for _, e := range []struct {
		used  bool
		words string
	}{
		{seen.letter, "same letter: same setting"}, {seen.step, "a → b: step, hook end's side first"}, {seen.broken, "broken: crest or bottom"},
		{seen.flat, "□ side of a square"}, {seen.hatched, "hatched: worn, hidden or inferred"},
	} {
		if e.used {
			out = append(out, e.words)
		}
	}
	return out
}

// marks tells which of the stick's marks occur on it, so that no other is explained.
type marks struct{ letter, step, broken, flat, hatched bool }

func (k *stick) marks() marks {
	var m marks
	for i, s := range k.stations {
		before, after := sides(k.pattern, s)
		m.letter = m.letter || k.settings[i].group != ""
		m.step = m.step || s.Step(stepTolerance)
		m.broken = m.broken || s.Role != profile.Edge
		m.flat = m.flat || before.flat || after.flat
	}
	for _, e := range k.pattern.Elements {
		m.hatched = m.hatched || uncertain(e.State)
	}
	return m
}

// drawLegend writes as much under each strip as finds room there, beside the last one too; what is left goes on under the
// next.
func (k *stick) drawLegend(s Surface, x, y float64, t tile) {
	left := k.legend()
	for i, u := range k.tiles {
		words := left
		if i > 0 {
			words = append([]string{fmt.Sprintf("cut off at %s and lay line %[1]s on line %[1]s of strip %d", joinName(i), i)}, left...)
		}
		at := legendPlaces(words, math.Max(0, u.Left)+3, high(u, k.wide))
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
	legendAir = 3.5 // between two of its entries, mm
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
