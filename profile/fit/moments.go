package fit

import "math"

// moments are weighted sums over a run of points, taken about the run's first point: sums over the whole
// trace would lose the small differences in terms of x⁴.
type moments struct {
	ox, or        float64
	n             int
	w             float64
	x, y          float64
	xx, xy, yy    float64
	xz, yz, z, zz float64 // z = x² + y²
}

func newMoments(p point) moments { return moments{ox: p.x, or: p.r} }

func (m *moments) add(p point) {
	x, y, w := p.x-m.ox, p.r-m.or, p.weight
	z := x*x + y*y
	m.n++
	m.w += w
	m.x += w * x
	m.y += w * y
	m.xx += w * x * x
	m.xy += w * x * y
	m.yy += w * y * y
	m.z += w * z
	m.xz += w * x * z
	m.yz += w * y * z
	m.zz += w * z * z
}

// central are the second moments about the centroid, per unit weight, and the ones with z that the circle needs.
type central struct {
	mx, my                  float64 // centroid
	xx, xy, yy, xz, yz, mzz float64
}

func (m *moments) central() central {
	c := central{mx: m.x / m.w, my: m.y / m.w}
	xx, xy, yy := m.xx/m.w, m.xy/m.w, m.yy/m.w
	c.xx, c.xy, c.yy = xx-c.mx*c.mx, xy-c.mx*c.my, yy-c.my*c.my
	c.xz, c.yz, c.mzz = m.withZ(c.mx, c.my, xx, xy, yy)
	return c
}

// withZ shifts the moments with z to the centroid: z' = z - 2(mx x + my y) + mx² + my².
func (m *moments) withZ(mx, my, xx, xy, yy float64) (xz, yz, zz float64) {
	z, rawXZ, rawYZ, rawZZ := m.z/m.w, m.xz/m.w, m.yz/m.w, m.zz/m.w
	s := mx*mx + my*my
	// Means of x z', y z' and z'² with x, y still about the first point.
	xz0 := rawXZ - 2*(mx*xx+my*xy) + s*mx
	yz0 := rawYZ - 2*(mx*xy+my*yy) + s*my
	z0 := z - 2*s + s
	zz = rawZZ + 4*(mx*mx*xx+2*mx*my*xy+my*my*yy) + s*s - 4*(mx*rawXZ+my*rawYZ) + 2*s*z - 4*s*s
	return xz0 - mx*z0, yz0 - my*z0, zz
}

// line returns the weighted sum of squared normal distances from the best line: the smaller eigenvalue of
// the scatter matrix.
func (m *moments) line() float64 {
	c := m.central()
	return m.w * math.Max(0, smallEigen(c))
}

func smallEigen(c central) float64 {
	h := (c.xx - c.yy) / 2
	return (c.xx+c.yy)/2 - math.Hypot(h, c.xy)
}

// lineFit returns a point on the best line and its unit direction towards growing x.
func (m *moments) lineFit() (x, r, ex, er float64) {
	c := m.central()
	t := math.Atan2(2*c.xy, c.xx-c.yy) / 2
	ex, er = math.Cos(t), math.Sin(t)
	return m.ox + c.mx, m.or + c.my, ex, er
}

// newtonSteps is enough for the smallest root from below to settle to rounding: the steps converge
// quadratically, and monotonically because the polynomial is concave there.
const newtonSteps = 12

// arc returns the weighted sum of squared distances from the circle of Taubin's fit (G. Taubin, PAMI 13(11),
// 1991): least mean F² for F = a z + b x + c y + d under mean |grad F|² = 1. About the centroid this is the
// smallest eigenvalue of a symmetric 3 x 3 matrix in (2a sqrt(mean z), b, c).
func (m *moments) arc() float64 {
	s, ok := m.taubin()
	if !ok {
		return math.Inf(1)
	}
	return m.w * math.Max(0, s.root())
}

// sym3 is a symmetric 3 x 3 matrix.
type sym3 struct{ a, b, c, d, e, f, scale float64 } // [a b c; b d e; c e f]; scale is 2 sqrt(mean z)

func (m *moments) taubin() (sym3, bool) {
	c := m.central()
	mz := c.xx + c.yy
	if !(mz > 0) {
		return sym3{}, false
	}
	k := 2 * math.Sqrt(mz)
	return sym3{a: (c.mzz - mz*mz) / (k * k), b: c.xz / k, c: c.yz / k, d: c.xx, e: c.xy, f: c.yy, scale: k}, true
}

// root returns the smallest eigenvalue by Newton's method from zero.
func (s sym3) root() float64 {
	tr := s.a + s.d + s.f
	c1 := s.a*s.d - s.b*s.b + s.a*s.f - s.c*s.c + s.d*s.f - s.e*s.e
	det := s.a*(s.d*s.f-s.e*s.e) - s.b*(s.b*s.f-s.e*s.c) + s.c*(s.b*s.e-s.d*s.c)
	v := 0.0
	for range newtonSteps {
		p := ((v-tr)*v+c1)*v - det
		q := (3*v-2*tr)*v + c1
		if q <= 0 {
			break
		}
		step := p / q
		v -= step
		if math.Abs(step) <= 1e-9*v {
			break
		}
	}
	return v
}

// circle is a circle in the meridian's plane.
type circle struct{ x, r, radius float64 }

// arcFit returns the circle of Taubin's fit; false where the points are straight.
func (m *moments) arcFit() (circle, bool) {
	s, ok := m.taubin()
	if !ok {
		return circle{}, false
	}
	v := s.root()
	// The eigenvector is the cross product of two rows of S - vI; the longest product is the safest.
	r0, r1, r2 := [3]float64{s.a - v, s.b, s.c}, [3]float64{s.b, s.d - v, s.e}, [3]float64{s.c, s.e, s.f - v}
	best, norm := [3]float64{}, 0.0
	for _, e := range [][3]float64{cross(r0, r1), cross(r0, r2), cross(r1, r2)} {
		if n := e[0]*e[0] + e[1]*e[1] + e[2]*e[2]; n > norm {
			best, norm = e, n
		}
	}
	a := best[0] / s.scale
	if a == 0 {
		return circle{}, false
	}
	c := m.central()
	cx, cy := -best[1]/(2*a), -best[2]/(2*a)
	radius := math.Sqrt(cx*cx + cy*cy + c.xx + c.yy)
	return circle{m.ox + c.mx + cx, m.or + c.my + cy, radius}, finite(radius)
}

func cross(p, q [3]float64) [3]float64 {
	return [3]float64{p[1]*q[2] - p[2]*q[1], p[2]*q[0] - p[0]*q[2], p[0]*q[1] - p[1]*q[0]}
}
