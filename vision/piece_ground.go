package vision

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// ground is a smooth model of the surface the piece lies on: each tone is a quadratic in the position.
type ground struct {
	w, h  float64
	coef  [3][6]float64
	sigma float64 // robust spread of the tones about the model, over the three channels
}

// groundBlock is the side of the blocks (small pixels) whose medians carry the ground model: wide
// enough to average over wood grain, narrow enough that a piece leaves most blocks untouched.
const groundBlock = 12

// groundSkip is the pitch of the pixels looked at in a block: 36 are enough for a median.
const groundSkip = 2

// basis fills the six monomials of the quadratic at small pixel (x, y).
func (g *ground) basis(x, y float64) [6]float64 {
	u, v := 2*x/g.w-1, 2*y/g.h-1
	return [6]float64{1, u, v, u * u, u * v, v * v}
}

// at is the tone of the lit ground at small pixel (x, y).
func (g *ground) at(x, y float64) colour {
	a, b, c := g.tones(x, y)
	return colour{a, b, c}
}

// tones are the three tones at small pixel (x, y), one by one: arrays would not be kept in registers.
func (g *ground) tones(x, y float64) (a, b, c float32) {
	u, v := 2/g.w*x-1, 2/g.h*y-1
	p, q, r := &g.coef[0], &g.coef[1], &g.coef[2]
	a = float32(p[0] + u*(p[1]+u*p[3]+v*p[4]) + v*(p[2]+v*p[5]))
	b = float32(q[0] + u*(q[1]+u*q[3]+v*q[4]) + v*(q[2]+v*q[5]))
	c = float32(r[0] + u*(r[1]+u*r[3]+v*r[4]) + v*(r[2]+v*r[5]))
	return a, b, c
}

// groundSample is the median tone of one block.
type groundSample struct {
	x, y float64
	c    colour
}

// fitGround models the ground from the small pixels that use admits. It is robust: up to about half
// of the blocks may show something else. False if too few blocks are left.
func fitGround(s *small, use func(x, y int) bool) (*ground, bool) {
	samples := groundSamples(s, use)
	if len(samples) < 24 { // four per coefficient
		return nil, false
	}
	g := &ground{w: float64(s.w), h: float64(s.h)}
	weights := make([]float64, len(samples))
	for k := range 3 {
		g.coef[k][0] = medianOf(len(samples), func(i int) float64 { return float64(samples[i].c[k]) })
	}
	for range 12 { // the weights settle within a few rounds
		g.reweigh(samples, weights)
		g.solve(samples, weights)
	}
	g.sigma = g.spread(s, use)
	return g, true
}

func groundSamples(s *small, use func(x, y int) bool) []groundSample {
	var out []groundSample
	var ch [3][]float64
	for by := 0; by+groundBlock <= s.h; by += groundBlock {
		for bx := 0; bx+groundBlock <= s.w; bx += groundBlock {
			for k := range ch {
				ch[k] = ch[k][:0]
			}
			for y := by; y < by+groundBlock; y += groundSkip {
				for x := bx; x < bx+groundBlock; x += groundSkip {
					if !use(x, y) {
						continue
					}
					c := s.pix[y*s.w+x]
					for k := range ch {
						ch[k] = append(ch[k], float64(c[k]))
					}
				}
			}
			if len(ch[0]) < groundBlock*groundBlock/(2*groundSkip*groundSkip) {
				continue
			}
			c := colour{float32(quantile(ch[0], 0.5)), float32(quantile(ch[1], 0.5)), float32(quantile(ch[2], 0.5))}
			out = append(out, groundSample{float64(bx) + groundBlock/2, float64(by) + groundBlock/2, c})
		}
	}
	return out
}

// reweigh gives Tukey's biweight to the samples by their distance from the model.
func (g *ground) reweigh(samples []groundSample, w []float64) {
	d := make([]float64, len(samples))
	for i, s := range samples {
		d[i] = dist(s.c, g.at(s.x, s.y))
	}
	scale := math.Max(2, 1.5*medianOf(len(d), func(i int) float64 { return d[i] }))
	for i := range d {
		t := d[i] / (4 * scale)
		w[i] = 0
		if t < 1 {
			w[i] = (1 - t*t) * (1 - t*t)
		}
	}
}

// solve fits the quadratics of the three channels by weighted least squares.
func (g *ground) solve(samples []groundSample, w []float64) {
	a, rhs := mat.NewSymDense(6, nil), mat.NewDense(6, 3, nil)
	var h [6][6]float64
	var r [6][3]float64
	for i := range samples {
		s := &samples[i]
		b := g.basis(s.x, s.y)
		for p := range b {
			v := w[i] * b[p]
			for k := range r[p] {
				r[p][k] += v * float64(s.c[k])
			}
			for q := p; q < len(b); q++ {
				h[p][q] += v * b[q]
			}
		}
	}
	for p := range h {
		h[p][p] += 1e-3 // a little ridge keeps blocks on one line from making it singular
		for q := p; q < len(h); q++ {
			a.SetSym(p, q, h[p][q])
		}
		rhs.SetRow(p, r[p][:])
	}
	var x mat.Dense
	if err := x.Solve(a, rhs); err != nil {
		return
	}
	for k := range g.coef {
		for p := range g.coef[k] {
			g.coef[k][p] = x.At(p, k)
		}
	}
}

// spread is the robust standard deviation of the tones about the model.
func (g *ground) spread(s *small, use func(x, y int) bool) float64 {
	var d []float64
	for y := 0; y < s.h; y += 3 {
		for x := 0; x < s.w; x += 3 {
			if use(x, y) {
				d = append(d, dist(s.pix[y*s.w+x], g.at(float64(x), float64(y))))
			}
		}
	}
	return quantile(d, 0.5) / 1.54 // the median length of a 3-vector of unit normals
}

// unlike2 is the square of the distance of tone c from that of the ground at small pixel (x, y), which may be in shadow:
// darkened to no less than the share floor of its tone it counts as ground.
func (g *ground) unlike2(c *colour, x, y float64, floor float32) float64 {
	a, b, d := g.tones(x, y)
	s := float32(1)
	if gg := a*a + b*b + d*d; gg > 0 {
		s = min(max((c[0]*a+c[1]*b+c[2]*d)/gg, floor), 1.04) // 4 %: lighter patches of an evenly lit ground
	}
	a, b, d = c[0]-s*a, c[1]-s*b, c[2]-s*d
	return float64(a*a + b*b + d*d)
}

func dot(a, b colour) float64 {
	return float64(a[0]*b[0] + a[1]*b[1] + a[2]*b[2])
}

func dist(a, b colour) float64 {
	d := colour{a[0] - b[0], a[1] - b[1], a[2] - b[2]}
	return math.Sqrt(dot(d, d))
}

// medianOf is the median of n values; 0 for none.
func medianOf(n int, at func(i int) float64) float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = at(i)
	}
	return quantile(v, 0.5)
}
