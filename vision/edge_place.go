package vision

import (
	"math"
)

// placed is a step of the place (px) after which the next is far under a thousandth.
const placed = 2e-3

// placeStep fits the place and the two levels of a step whose blur, limb and slopes are held at the
// prior's means: what a whole section shows of them, the few samples of one point cannot better.
func (t *limbTable) placeStep(s []edgeSample, reach float64, prior *stepPrior) step {
	p, ok := t.start(s, reach, prior)
	if !ok {
		return step{}
	}
	weight := 0.0
	for i := range s {
		weight += s[i].w
	}
	dof := math.Max(weight-3, 1)
	var h [3][3]float64
	var sse float64
	for range 8 { // converges within about four
		var g [3]float64
		h, g, sse = t.normalPlace(s, &p)
		noise2 := math.Max(sse/dof, 1e-8)
		for i, k := range [2]int{atA, atB} {
			if v := prior.sd[k]; v > 0 {
				h[i+1][i+1] += noise2 / (v * v)
				g[i+1] -= noise2 / (v * v) * (p[k] - prior.mean[k])
			}
		}
		d := solve3(h, g)
		p[atAt] += math.Max(-1, math.Min(1, d[0]))
		p[atA] += d[1]
		p[atB] += d[2]
		if !(math.Abs(p[atAt]) <= reach+1) {
			return step{}
		}
		if math.Abs(d[0]) < placed {
			break
		}
	}
	e := solve3(h, [3]float64{1})
	noise := math.Sqrt(sse / dof)
	ok = e[0] >= 0 && !math.IsInf(e[0], 0)
	return step{stepVec: p, Noise: noise, Sigma: noise * math.Sqrt(math.Max(e[0], 0)), OK: ok}
}

// normalPlace is the normal matrix, the negative gradient and the sum of squares of place and levels at p.
func (t *limbTable) normalPlace(s []edgeSample, p *stepVec) (h [3][3]float64, g [3]float64, sse float64) {
	blur := math.Exp(p[atBlur])
	sharp := 1 / blur
	limb := p[atLimb] * math.Sqrt(blur)
	height, deep, far := p[atA]-p[atB], p[atIn]*blur, p[atOut]*blur
	var aa, ab, ac, bb, bc, cc float64
	for i := range s {
		q := &s[i]
		z := (p[atAt] - q.d) * sharp // positive inside
		in, bell := t.edge(z)
		out := 1 - in
		value := p[atB] + height*in + deep*(z*in+bell) + far*(bell-z*out)
		slope := height*bell*sharp + p[atIn]*in - p[atOut]*out
		if limb != 0 {
			root, steep := t.at(z)
			value += limb * root
			slope += limb * steep * sharp
		}
		r := q.v - value
		wr, ws, wi := q.w*r, q.w*slope, q.w*in
		sse += wr * r
		g[0], g[1], g[2] = g[0]+wr*slope, g[1]+wr*in, g[2]+wr*out
		aa, ab, ac = aa+ws*slope, ab+ws*in, ac+ws*out
		bb, bc, cc = bb+wi*in, bc+wi*out, cc+q.w*out*out
	}
	return [3][3]float64{{aa, ab, ac}, {ab, bb, bc}, {ac, bc, cc}}, g, sse
}
