package plan

import (
	"math"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
)

// Pass is one cut along an element: from its larger to its smaller diameter, so that the fibres cut are held by those
// under them. From lies beyond To where the cut runs towards the hook end. A level pass runs either way.
type Pass struct {
	From, To float64 // mm from the hook end
	Level    bool
}

// passes returns the cuts of an element: beads from the crest to both sides, coves and vees from both rims to the
// bottom, tapers from large to small.
func passes(e profile.Element) []Pass {
	turns := sizing.Turns(e)
	var out []Pass
	for i := 1; i < len(turns); i++ {
		a, b := turns[i-1], turns[i]
		da, db := e.At(a), e.At(b)
		switch {
		case math.Abs(da-db) < flat:
			out = append(out, Pass{a, b, true})
		case da > db:
			out = append(out, Pass{From: a, To: b})
		default:
			out = append(out, Pass{From: b, To: a})
		}
	}
	return out
}

// flat is a difference of diameter that gives a cut no direction, mm: a hundredth, under what calipers show.
const flat = 0.01
