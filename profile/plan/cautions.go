package plan

// cautionsOf returns what to heed at a step of the work, on a piece with squares or without (power tool makers' safety
// sheets; common practice).
func cautionsOf(step int, squares bool) []string {
	switch step {
	case stepPommel:
		if squares {
			return []string{"Square corners that turn are not seen: hands stay behind the rest, here and wherever you work beside a square."}
		}
	case stepRough:
		return []string{"Set the rest only with the lathe stopped; the corners must clear it all the way round."}
	case stepMark, stepTapers:
		return []string{"Stop the lathe to measure: no stick, template, calipers or straightedge touches turning work."}
	case stepSize:
		return []string{"Stop the lathe for every reading of the calipers."}
	case stepSand:
		out := []string{
			"Take the rest off first. Dust mask on, gloves off, small pieces of paper, never cloth.",
			"Last pass along the grain with the lathe stopped.",
		}
		if squares {
			out = append(out, "Square and pommel are sanded by hand with the lathe stopped.")
		}
		return out
	}
	return nil
}

// Before are the cautions for before the work begins.
func Before() []string {
	return []string{
		"Face shield and dust mask on; no gloves, no loose sleeves, long hair tied back.",
		"Turn the work by hand through a whole turn before the lathe is started, each time that something was moved.",
		"Reject a blank with checks, loose knots or bark. A glued blank must have cured fully, and its joints must be sound.",
		"The lathe's own manual governs wherever it says otherwise than this plan.",
	}
}

// Original are the cautions about the old piece.
func Original() []string {
	return []string{
		"Old paint may hold lead: do not sand or scrape it dry before it is tested. In the US paid work on homes from before 1978 falls under the EPA's RRP rule; in the UK paint up to the 1980s is suspect; elsewhere the local law decides.",
		"An old turning is normally oval by 0.5 to 2.7 %: take its calipers at two places a quarter turn apart.",
	}
}

// Guards are the cautions about balusters.
func Guards() []string {
	return []string{
		"Balusters are part of a guard. The opening is the spacing less the smallest facing diameter, so a thinner copy opens the gap.",
		"The sphere figures are for information: the local code and licensed practice decide.",
	}
}

// Cautions are all cautions of a plan, those of its steps among them, in the order in which they matter.
func Cautions() []string {
	out := Before()
	for step := stepPommel; step <= stepSand; step++ {
		out = append(out, cautionsOf(step, true)...)
	}
	return append(append(out, Original()...), Guards()...)
}
