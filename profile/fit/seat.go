package fit

import "math"

// seated is bead k brought down, on its own circle, to the lower of the fillets beside it, which give way: a bead whose feet are
// out of sight reads as one cut off short.
func (f *fitted) seated(k int) (out []move) {
	if k < 1 || k+1 >= len(f.links) || f.links[k].form != free || f.segment(k).Sagitta <= 0 || !f.ties.level[k-1] && !f.ties.level[k+1] {
		return nil
	}
	s := f.segment(k)
	cx, cr, ok := s.Centre()
	if !ok || !f.movable(k-1, k+1) {
		return nil
	}
	r := math.Min(s.R0, s.R1)
	for _, n := range []int{k - 1, k + 1} {
		if f.ties.level[n] {
			r = math.Min(r, f.joints[n].after)
		}
	}
	rad := s.Radius()
	half := rad
	if r > cr {
		half = math.Sqrt(math.Max(0, rad*rad-(r-cr)*(r-cr)))
	}
	x0, x1 := math.Min(s.X0, cx-half), math.Max(s.X1, cx+half)
	if x0-f.joints[k-1].x < leastShape/2 || f.joints[k+2].x-x1 < leastShape/2 {
		return nil
	}
	p, q := f.shortened(k-1, f.joints[k-1].x, x0), f.shortened(k+1, x1, f.joints[k+2].x)
	g := f.ends(k-1, k+1)
	crest := cr + rad - r
	g.links = []link{p.link, {form: free, convex: true, sagitta: math.Min(crest, (x1-x0)/2)}, q.link}
	g.level = []bool{f.ties.level[k-1], false, f.ties.level[k+1]}
	g.joints = []joint{{x: x0, before: p.r1, after: r}, {x: x1, before: r, after: q.r0}}
	return []move{{k - 1, k + 1, g}}
}
