package plan

import "spindlestick/profile"

// Step is one step of the work, in the order a spindle is turned in (common practice, no source; step 9 also Milton and
// Wohlers, A Course in Wood Turning).
type Step struct {
	No       int // 1 to 10
	Title    string
	Items    []Item
	Cautions []string
}

// Item is an element's share in a step.
type Item struct {
	Element int
	Passes  []Pass // from large to small; empty where the step does not cut it
}

// The numbers of the steps.
const (
	stepPommel = iota + 1
	stepRough
	stepMark
	stepSize
	stepVees
	stepBeads
	stepCoves
	stepFillets
	stepTapers
	stepSand
)

// titles name the steps from the first on.
func titles() []string {
	return []string{
		"Pommel first, while the blank can still be turned round or another one taken",
		"Rough to a cylinder, away from the pommel",
		"Mark from the story stick, held to the finished hook end",
		"Size with parting tool and calipers",
		"V's",
		"Beads",
		"Coves and ogees",
		"Fillets, and the pommel down to its fillet",
		"Tapers, swells and long cylinders, always from large to small, checked with a straightedge",
		"Rest off, then sand: crisp details first, then coves and broad parts",
	}
}

// stepOf is the step in which an element is cut to shape; 0 for a square, which is not turned. Ogees go with the coves,
// cylinders and swells with the tapers (common practice, no source).
func stepOf(k profile.Kind) int {
	switch k {
	case profile.Shoulder:
		return stepPommel
	case profile.Vee:
		return stepVees
	case profile.Bead, profile.HalfBead:
		return stepBeads
	case profile.Cove, profile.HalfCove, profile.Ogee:
		return stepCoves
	case profile.Fillet:
		return stepFillets
	case profile.Taper, profile.Cylinder, profile.Swell:
		return stepTapers
	}
	return 0
}

// order returns the ten steps, for a piece with squares or without.
func order(p profile.Pattern, squares bool) []Step {
	var out []Step
	for i, title := range titles() {
		out = append(out, Step{No: i + 1, Title: title, Cautions: cautionsOf(i+1, squares)})
	}
	for i, e := range p.Elements {
		n := stepOf(e.Kind)
		if n == 0 {
			continue
		}
		item := Item{i, passes(e)}
		out[n-1].Items = append(out[n-1].Items, item)
		if n == stepPommel {
			out[stepFillets-1].Items = append(out[stepFillets-1].Items, item)
		}
	}
	out[stepSand-1].Items = sanding(p)
	return out
}

// Stage is a stage of sanding.
type Stage int

// The stages of sanding in their order.
const (
	Crisp  Stage = iota // edges that broad sanding would round over
	Broad               // coves, tapers, long curves
	ByHand              // what is square: lathe stopped
)

// StageOf says when an element is sanded.
func StageOf(k profile.Kind) Stage {
	switch k {
	case profile.Vee, profile.Bead, profile.HalfBead, profile.Fillet:
		return Crisp
	case profile.Square, profile.Shoulder:
		return ByHand
	}
	return Broad
}

// sanding lists every element in the order in which it is sanded.
func sanding(p profile.Pattern) []Item {
	var out []Item
	for _, stage := range []Stage{Crisp, Broad, ByHand} {
		for i, e := range p.Elements {
			if StageOf(e.Kind) == stage {
				out = append(out, Item{Element: i})
			}
		}
	}
	return out
}
