package vision

import (
	"math"
)

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
		if math.Abs(d[0]) < 1e-3 { // px: the next step is far smaller
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
	limb := p[atLimb] * math.Sqrt(blur)
	height := p[atA] - p[atB]
	var aa, ab, ac, bb, bc, cc float64
	for i := range s {
		q := &s[i]
		z := (p[atAt] - q.d) / blur // positive inside
		in, bell := t.edge(z)
		value := p[atB] + height*in + p[atIn]*blur*(z*in+bell) + p[atOut]*blur*(bell-z*(1-in))
		slope := height*bell/blur + p[atIn]*in - p[atOut]*(1-in)
		if limb != 0 {
			root, steep := t.at(z)
			value += limb * root
			slope += limb * steep / blur
		}
		r, out := q.v-value, 1-in
		wr, ws, wi := q.w*r, q.w*slope, q.w*in
		sse += wr * r
		g[0], g[1], g[2] = g[0]+wr*slope, g[1]+wr*in, g[2]+wr*out
		aa, ab, ac = aa+ws*slope, ab+ws*in, ac+ws*out
		bb, bc, cc = bb+wi*in, bc+wi*out, cc+q.w*out*out
	}
	return [3][3]float64{{aa, ab, ac}, {ab, bb, bc}, {ac, bc, cc}}, g, sse
}
