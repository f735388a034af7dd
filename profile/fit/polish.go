package fit

import "math"

// polish refines one link after another with those beside it where the picture disagrees. A search that moves all numbers
// at once stands still when a corner anywhere lets no step succeed; one place at a time, only that place does.
func (p *picture) polish(f fitted) fitted {
	for k := range f.links {
		if p.doubt(&f, k) < 0 {
			continue
		}
		at := f.window(k, k)
		part := p.around(&f, at, k, k)
		if len(part.points) == 0 {
			continue
		}
		if g, err := part.refinePart(f.chain, f.ties, cameraIterations, at); err == nil && g.ordered(at.from, at.to) {
			f = g
		}
	}
	return f
}

// around returns the part of the picture that links a to b, with those of the place that holds them, are seen in.
func (p *picture) around(f *fitted, at place, a, b int) *picture {
	lo, hi := f.joints[at.from].x, f.joints[at.to+1].x
	if at.holdFirst && f.links[at.from].form == straight {
		lo = math.Max(lo, f.joints[a].x-flankReach)
	}
	if at.holdLast && f.links[at.to].form == straight {
		hi = math.Min(hi, f.joints[b+1].x+flankReach)
	}
	return p.between(lo, hi)
}
