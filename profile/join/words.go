package join

import (
	"fmt"
	"math"
)

// SeamWords says how shots were joined, a sentence or two for each seam.
func SeamWords(seams []Seam) []string {
	var out []string
	for _, s := range seams {
		w := fmt.Sprintf("%s is continued by %s from %.1f mm; they overlap from %.0f to %.0f mm and agree to %.2f mm of diameter.",
			s.Names[0], s.Names[1], s.At, s.From, s.To, s.RMS)
		if len(s.Parts) > 0 {
			p := worst(s.Parts)
			w += fmt.Sprintf(" They differ by more than is uncertain at %d places, most at %.0f mm: %+.2f mm.", len(s.Parts), (p.X0+p.X1)/2, p.Difference)
		}
		out = append(out, w)
	}
	return out
}

// The usual ovality of an old round turning, as a share of its diameter. Wood shrinks about twice as much along the rings
// as across them: table 13-5 of the Wood Handbook (USDA Forest Products Laboratory, FPL-GTR-190) gives differences of
// .0006 to .0024 per cent of moisture, times the 6 % and more that turned-green and old work has lost since.
const (
	usualLeast = 0.005
	usualMost  = 0.027
)

// Words says how round the piece is.
func (o Oval) Words() []string {
	if o.Largest == nil {
		return []string{"Turned by a quarter the piece measures the same: it is round within what is uncertain."}
	}
	l := o.Largest
	out := []string{
		fmt.Sprintf("Turned by a quarter, diameters differ by %.1f %% in the middle of all places, and by more than is uncertain at %.0f %% of them; most at %.0f mm: %.2f and %.2f mm, mean %.2f.",
			100*o.Median, 100*o.Out, l.X, l.D[0], l.D[1], l.Mean),
	}
	if share := math.Abs(l.Difference) / l.Mean; share <= usualMost {
		out = append(out, fmt.Sprintf("Wood shrinks more along the rings than across them: %.1f to %.1f %% is usual in old work, and the maker turned it round. The pattern holds the mean.", 100*usualLeast, 100*usualMost))
	} else {
		out = append(out, fmt.Sprintf("That is more than drying explains (%.1f to %.1f %% is usual): look there for wear, a flat or damage before taking the mean, which the pattern holds.", 100*usualLeast, 100*usualMost))
	}
	return append(out, "The oval's axes may lie between the two turns: two more photographs, an eighth of a turn on, would show it.")
}
