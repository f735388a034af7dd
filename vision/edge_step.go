package vision

import (
	"math"
)

// edgeSample is a pixel near an edge, or several alike: its distance d from the contour (px, outward),
// its value (1 inside the piece, 0 outside) and its weight (1 for one clean pixel).
type edgeSample struct{ d, v, w float64 }

// The parameters of a blurred step: its place (px outward of the contour), the logarithm of the blur
// (px), the levels just inside and outside, how much the level rises with the root of the depth inside
// (a round piece turns away from the light like that), and with the depth and the distance outside.
const (
	atAt = iota
	atBlur
	atA
	atB
	atLimb
	atIn
	atOut
	stepParams
)

type stepVec [stepParams]float64

// step is a fitted blurred step.
type step struct {
	stepVec
	Sigma float64 // standard deviation of the place, px
	Noise float64 // root mean square residual
	OK    bool
	kind  measure
}

func (s *step) at() float64   { return s.stepVec[atAt] }
func (s *step) blur() float64 { return math.Exp(s.stepVec[atBlur]) }
func (s *step) rise() float64 { return s.stepVec[atA] - s.stepVec[atB] }

// stepPrior is what is known of a step before it is fitted: means and standard deviations of its
// parameters. A standard deviation of 0 leaves a parameter free.
type stepPrior struct {
	mean, sd stepVec
	texture  [2]float64 // standard deviation of the values inside and outside, clear of the edge
}

// fitStep fits a blurred step to the samples by Gauss-Newton. reach is how far (px) the edge may be
// from the contour. The weights of the samples are lowered by the texture.
func (t *limbTable) fitStep(s []edgeSample, reach float64, prior stepPrior) step {
	start, ok := t.start(s, reach, &prior)
	if !ok {
		return step{}
	}
	return t.newtonStep(s, start, reach, prior)
}

// fitAgain is fitStep from the step that another prior gave.
func (t *limbTable) fitAgain(s []edgeSample, reach float64, prior stepPrior, last *step) step {
	start := last.stepVec
	weigh(s, start[atAt], prior.texture)
	start[atBlur] = prior.mean[atBlur]
	return t.newtonStep(s, start, reach, prior)
}

// start weighs the samples and finds where to begin.
func (t *limbTable) start(s []edgeSample, reach float64, prior *stepPrior) (start stepVec, ok bool) {
	if len(s) < 12 {
		return start, false
	}
	at, levels, ok := t.scanStep(s, math.Exp(prior.mean[atBlur]), reach)
	if !ok {
		return start, false
	}
	weigh(s, at, prior.texture)
	start = prior.mean
	start[atAt], start[atA], start[atB] = at, levels[0], levels[1]
	return start, true
}

// Texture: how deep it takes to reach its full strength, px, and the noise and JPEG rounding of a single pixel, as a
// share of the step, that it competes with. Near the edge the blur smooths it.
const (
	textureDepth = 1.5
	pixelNoise   = 0.04
)

// weigh lowers the weights of samples that grain may disturb: the further from the edge, the more the
// level there may differ from that at the edge.
func weigh(s []edgeSample, at float64, texture [2]float64) {
	for i := range s {
		depth, tex := at-s[i].d, texture[0]
		if depth < 0 {
			depth, tex = -depth, texture[1]
		}
		u := tex * math.Min(1, depth/textureDepth)
		s[i].w *= pixelNoise * pixelNoise / (pixelNoise*pixelNoise + u*u)
	}
}

// scanPlenty is how many samples are enough to find where to begin.
const scanPlenty = 40

// scanStep tries places half a pixel apart with the two levels by least squares.
func (t *limbTable) scanStep(s []edgeSample, blur, reach float64) (at float64, levels [2]float64, ok bool) {
	best, every, sharp := math.Inf(1), (len(s)+scanPlenty-1)/scanPlenty, 1/blur
	for d := -reach; d <= reach+1e-9; d += 0.5 {
		var n, sp, spp, sv, spv, svv float64
		for i := 0; i < len(s); i += every {
			q := &s[i]
			p := t.level((d - q.d) * sharp)
			wp, wv := q.w*p, q.w*q.v
			n, sp, spp = n+q.w, sp+wp, spp+wp*p
			sv, spv, svv = sv+wv, spv+wp*q.v, svv+wv*q.v
		}
		den := n*spp - sp*sp
		if den < 1e-9 {
			continue
		}
		rise := (n*spv - sp*sv) / den
		level := (sv - rise*sp) / n
		if rise <= 0 {
			continue
		}
		sse := svv - level*sv - rise*spv
		if sse < best {
			best, at, levels, ok = sse, d, [2]float64{level + rise, level}, true
		}
	}
	return at, levels, ok
}

// phi is the normal distribution function.
func phi(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// newtonStep refines the parameters p.
func (t *limbTable) newtonStep(s []edgeSample, p stepVec, reach float64, prior stepPrior) step {
	weight := 0.0
	for _, q := range s {
		weight += q.w
	}
	dof := math.Max(weight-3, 1)
	var h [stepParams]stepVec
	var sse float64
	for range 12 { // converges within about five
		var g stepVec
		h, g, sse = t.normalStep(s, p)
		noise2 := math.Max(sse/dof, 1e-8)
		for k, v := range prior.sd {
			if v > 0 {
				h[k][k] += noise2 / (v * v)
				g[k] -= noise2 / (v * v) * (p[k] - prior.mean[k])
			}
		}
		d, ok := solveStep(h, g)
		if !ok {
			return step{}
		}
		d[atAt] = math.Max(-1, math.Min(1, d[atAt]))
		d[atBlur] = math.Max(-0.5, math.Min(0.5, d[atBlur]))
		for k := range p {
			p[k] += d[k]
		}
		if !(math.Abs(p[atAt]) <= reach+1) {
			return step{}
		}
		if math.Abs(d[atAt]) < 1e-3 && math.Abs(d[atBlur]) < 3e-3 { // px: the next step is far smaller
			break
		}
	}
	e, ok := solveStep(h, stepVec{1})
	noise := math.Sqrt(sse / dof)
	return step{stepVec: p, Noise: noise, Sigma: noise * math.Sqrt(math.Max(e[atAt], 0)), OK: ok}
}

// normalStep is the normal matrix, the negative gradient and the sum of squares at p.
func (t *limbTable) normalStep(s []edgeSample, p stepVec) (h [stepParams]stepVec, g stepVec, sse float64) {
	blur := math.Exp(p[atBlur])
	root := math.Sqrt(blur)
	for _, q := range s {
		z := (p[atAt] - q.d) / blur // positive inside
		in, bell := t.edge(z)
		limb, steep := t.at(z)
		deep := blur * (z*in + bell)    // blurred depth inside
		out := blur * (bell - z*(1-in)) // blurred distance outside
		height := p[atA] - p[atB]
		j := stepVec{
			(height*bell+p[atLimb]*root*steep)/blur + p[atIn]*in - p[atOut]*(1-in),
			-height*bell*z + p[atLimb]*root*(limb/2-z*steep) + (p[atIn]+p[atOut])*blur*bell,
			in, 1 - in, root * limb, deep, out,
		}
		r := q.v - (p[atB] + height*in + p[atLimb]*root*limb + p[atIn]*deep + p[atOut]*out)
		sse += q.w * r * r
		for a := range j {
			g[a] += q.w * j[a] * r
			for b := a; b < stepParams; b++ {
				h[a][b] += q.w * j[a] * j[b]
			}
		}
	}
	for a := range h {
		for b := range a {
			h[a][b] = h[b][a]
		}
	}
	return h, g, sse
}

// solveStep solves h x = g by Cholesky; false if h is not positive definite.
func solveStep(h [stepParams]stepVec, g stepVec) (stepVec, bool) {
	const n = stepParams
	for i := range n {
		for j := range i + 1 {
			v := h[i][j]
			for k := range j {
				v -= h[i][k] * h[j][k]
			}
			if i != j {
				h[i][j] = v / h[j][j]
				continue
			}
			if !(v > 1e-14) {
				return g, false
			}
			h[i][i] = math.Sqrt(v)
		}
	}
	for i := range n {
		for k := range i {
			g[i] -= h[i][k] * g[k]
		}
		g[i] /= h[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			g[i] -= h[k][i] * g[k]
		}
		g[i] /= h[i][i]
	}
	return g, true
}
