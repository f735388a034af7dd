package fit

// shortestCut is the length under which no turner cuts a fillet, mm: half of the narrowest parting tool's width (common
// practice, no source).
const shortestCut = 0.8

// sliverWorth is what the picture must say for a fillet shorter than that, in the units of a description.
const sliverWorth = sliverOddity

// withoutSlivers takes out level links that nobody cuts, each if the picture has little to say for it.
func (p *picture) withoutSlivers(f fitted) fitted {
	for k := len(f.links) - 2; k > 0; k-- {
		_, isShoulder := f.ties.shoulder(k)
		if !f.ties.level[k] || f.span(k) >= shortestCut || isShoulder || f.vee(k-1) || f.vee(k) || f.links[k].bound() || f.links[k+1].bound() {
			continue
		}
		c := f.clone()
		c.drop(k)
		g, err := p.refine(c, f.ties.without(k), contestIterations)
		if err == nil && g.cost < f.cost+sliverWorth {
			f = g
		}
	}
	return f
}
