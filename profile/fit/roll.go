package fit

import "math"

const (
	// rollStep is a small turn of the squares, radians, to see which way their edges go.
	rollStep = 1e-3
	// mostTurn is how far the squares' turn about the axis may be corrected, radians: what shifts the axis by the width of a
	// few pixels, far less than a square turned on purpose.
	mostTurn = 0.05
)

// turn turns the squares about the axis so that their two edges stand equally far off: how a square lies is seen by its
// near edges, which an axis a little off leaves to one side.
func (p *picture) turn(f *fitted) {
	now, ok := p.sideways(f)
	if !ok {
		return
	}
	g := *f
	g.ties.roll += rollStep
	then, _ := p.sideways(&g)
	if d := -now * rollStep / (then - now); math.Abs(d) < mostTurn {
		f.ties.roll += d
	}
}

// sideways is by how many pixels the edges of the squares lie to the side of hand; false where no square shows.
func (p *picture) sideways(f *fitted) (px float64, ok bool) {
	w := newExposure(p, f.chain, f.ties)
	r := make([]float64, len(p.points))
	w.residuals(nil, r)
	var side [2]float64
	var n [2]int
	for i, q := range p.points {
		if k := f.at(q.station); f.ties.square[k] && spacing(&f.chain, q.station) > 0 && math.Abs(r[i]/q.root) < nearby {
			side[q.side] += r[i] / q.root
			n[q.side]++
		}
	}
	if min(n[0], n[1]) < leastTurn {
		return 0, false
	}
	return side[0]/float64(n[0]) - side[1]/float64(n[1]), true
}

// leastTurn is how many points of each side of the squares tell how they lie.
const leastTurn = 5

// at returns the link at station x.
func (c *chain) at(x float64) int {
	for k := range c.links {
		if x <= c.joints[k+1].x {
			return k
		}
	}
	return len(c.links) - 1
}
