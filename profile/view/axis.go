package view

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// meridianPlane is the plane of mirror symmetry of the outline: it holds the camera and the axis. y is its
// normal, towards side 1; x lies in it, roughly along the axis; z completes them, away from the camera.
type meridianPlane struct {
	x, y, z r3.Vec
}

// ErrSides is wrapped where the two sides of an outline do not give an axis.
var ErrSides = errors.New("the two sides of the outline do not give an axis")

// projector looks at the plane's own frame: its u and v serve as axis coordinates for everything that the tilt
// and distance of the axis within the plane do not touch.
func (m meridianPlane) projector(c Camera) Projector {
	return Projector{Camera: c, D: 1, x: m.x, y: m.y, z: m.z}
}

// planeThrough returns the plane through the camera and two pixels, x from the first to the second.
func planeThrough(c Camera, a, b r2.Vec) (meridianPlane, error) {
	ra, rb := c.Ray(a), c.Ray(b)
	n := r3.Cross(ra, rb)
	if !(r3.Norm(n) > 1e-6) {
		return meridianPlane{}, ErrSides
	}
	m := meridianPlane{y: r3.Unit(n), x: r3.Unit(r3.Sub(rb, ra))}
	m.z = r3.Cross(m.x, m.y)
	return m, nil
}

// mirrorPlane finds the plane in which the two sides are mirror images of each other, starting from the rough
// axis, which may be known from a scene nearly the same: (v1 + v0)/2 must be zero at every u, so a robust straight line through it is turned to zero.
func mirrorPlane(c Camera, rough [2]r2.Vec, known bool, sides [2]seenSide) (meridianPlane, error) {
	m, err := planeThrough(c, rough[0], rough[1])
	if err != nil {
		return m, err
	}
	for round := range 6 {
		p := m.projector(c)
		left, right := laidOut(p, sides[0], 0), laidOut(p, sides[1], 1)
		mids := middles(&left, &right)
		start, ok := midline{}, len(mids) > 1
		if round == 0 && !known {
			start, ok = firstLine(mids)
		}
		if !ok {
			return m, ErrSides
		}
		line := robustLine(mids, start)
		m = m.turned(line.a, line.b)
		if math.Abs(line.a)+math.Abs(line.b) < 1e-9 {
			break
		}
	}
	return m, nil
}

// turned returns the plane that holds the rays v = a + b u of the present one.
func (m meridianPlane) turned(a, b float64) meridianPlane {
	y := r3.Unit(r3.Sub(m.y, r3.Add(r3.Scale(a, m.z), r3.Scale(b, m.x))))
	m.x = r3.Unit(r3.Sub(m.x, r3.Scale(r3.Dot(m.x, y), y)))
	m.y, m.z = y, r3.Cross(m.x, y)
	return m
}

// middle is the middle of the two sides at one u.
type middle struct{ u, v float64 }

// steepest is the slope |dv/du| beyond which a point says where a shoulder is, not how wide the piece is.
const steepest = 1

// middles pairs each point of side 0 with side 1 at the same u.
func middles(a, b *contour) []middle {
	var out []middle
	j := 1
	for i := 1; i+1 < len(a.u); i++ {
		u := a.u[i]
		for j < len(b.u) && b.u[j] < u {
			j++
		}
		if j >= len(b.u) || b.u[j-1] > u || a.gap[i] || a.gap[i+1] || b.gap[j] {
			continue
		}
		du := b.u[j] - b.u[j-1]
		if math.Abs(b.v[j]-b.v[j-1]) > steepest*du || math.Abs(a.v[i+1]-a.v[i-1]) > steepest*(a.u[i+1]-a.u[i-1]) {
			continue
		}
		v := b.v[j-1] + (u-b.u[j-1])/du*(b.v[j]-b.v[j-1])
		out = append(out, middle{u, (v - a.v[i]) / 2})
	}
	return out
}

// midline is the straight line v = a + b u through the middles.
type midline struct{ a, b float64 }

// firstLine is the line of the least median of squares over medians of blocks.
func firstLine(mids []middle) (midline, bool) {
	blocks := medians(mids, 60)
	if len(blocks) < 4 {
		return midline{}, false
	}
	return leastMedian(blocks), true
}

// robustLine fits the line that most middles agree on, from a start among them, with Tukey's weights: rolled squares and
// damage pull the middle aside over whole stretches.
func robustLine(mids []middle, l midline) midline {
	off, sorted := make([]float64, len(mids)), make([]float64, len(mids))
	for range 20 {
		for i, m := range mids {
			off[i] = math.Abs(m.v - l.a - l.b*m.u)
		}
		copy(sorted, off)
		// Normal residuals have their median at 0.6745 standard deviations; exact outlines have none.
		next := weightedLine(mids, off, max(median(sorted)/0.6745, 1e-9))
		moved := math.Abs(l.a-next.a) + math.Abs(l.b-next.b)
		if l = next; moved < 1e-10 {
			break
		}
	}
	return l
}

// tukey is the limit of Tukey's biweight in standard deviations, 95 % efficient (Huber, Robust Statistics).
const tukey = 4.685

func weightedLine(mids []middle, off []float64, s float64) midline {
	var m0, m1, m2, c0, c1 float64
	for i, m := range mids {
		q := off[i] / (tukey * s)
		if q >= 1 {
			continue
		}
		w := (1 - q*q) * (1 - q*q)
		m0 += w
		m1 += w * m.u
		m2 += w * m.u * m.u
		c0 += w * m.v
		c1 += w * m.u * m.v
	}
	det := m0*m2 - m1*m1
	return midline{a: (m2*c0 - m1*c1) / det, b: (m0*c1 - m1*c0) / det}
}

// medians returns the medians of n blocks of equal length in u.
func medians(mids []middle, n int) []middle {
	if len(mids) == 0 {
		return nil
	}
	lo, hi := mids[0].u, mids[len(mids)-1].u
	if !(hi > lo) {
		return nil
	}
	groups := make([][]float64, n)
	for _, m := range mids {
		k := min(n-1, max(0, int(float64(n)*(m.u-lo)/(hi-lo))))
		groups[k] = append(groups[k], m.v)
	}
	var out []middle
	for k, g := range groups {
		if len(g) > 0 {
			out = append(out, middle{u: lo + (float64(k)+0.5)/float64(n)*(hi-lo), v: median(g)})
		}
	}
	return out
}

// leastMedian returns the line through two of the points with the least median distance from all.
func leastMedian(pts []middle) (l midline) {
	best := math.Inf(1)
	off := make([]float64, len(pts))
	for i := range pts {
		for j := i + 1; j < len(pts); j++ {
			slope := (pts[j].v - pts[i].v) / (pts[j].u - pts[i].u)
			at := pts[i].v - slope*pts[i].u
			for k, p := range pts {
				off[k] = math.Abs(p.v - at - slope*p.u)
			}
			if m := median(off); m < best {
				best, l = m, midline{at, slope}
			}
		}
	}
	return l
}
